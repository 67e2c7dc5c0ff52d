"""What each role may do at the bench."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from hoistwright.web.records.accounts import Account, AccountRole

Right = Literal["see", "book in", "work", "sign", "adopt", "keep gauges", "administer", "own"]
"""own: one's own language, units, password and PIN."""

_ALL: frozenset[AccountRole] = frozenset(
    ("technician", "competent person", "counter", "read-only", "administrator")
)

RIGHTS: Mapping[Right, frozenset[AccountRole]] = {
    "see": _ALL,
    "own": _ALL,
    "book in": frozenset(("technician", "competent person", "counter")),
    "work": frozenset(("technician", "competent person")),
    "sign": frozenset(("competent person",)),
    "adopt": frozenset(("competent person",)),
    "keep gauges": frozenset(("competent person", "administrator")),
    "administer": frozenset(("administrator",)),
}


def may(account: Account | None, right: Right) -> bool:
    """Whether somebody may do something. Nobody may, without an account."""
    return account is not None and account.active and bool(RIGHTS[right] & set(account.roles))
