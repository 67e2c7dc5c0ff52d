"""What a shop charges, as its shop file says it, and its own rule for repair or scrap."""

from __future__ import annotations

import re
from collections.abc import Iterator

import attrs

from hoistwright.renew.money import MoneyError, amount_of
from hoistwright.renew.policy import Policy

_CODE = re.compile(r"[A-Z]{3}")


@attrs.frozen(kw_only=True)
class NewHoist:
    """The price of a new hoist of a design."""

    design: str
    price: str


@attrs.frozen(kw_only=True)
class Charges:
    """Amounts are texts such as "54.00", in `currency` and without tax.

    call_back: what one visit out of turn costs beside part and labour. scrap_from: share of a
    new hoist's price from which repair is not advised. scrap_value: what an old hoist brings.
    valid_days: how long a quote stands. price_list: the file beside the shop file.
    """

    currency: str
    labour_per_hour: str
    call_back: str
    scrap_from: float = 0.6
    scrap_value: str = "0"
    valid_days: int = 30
    tax_note: str = ""
    price_list: str = ""
    new_hoists: tuple[NewHoist, ...] = ()

    def policy(self) -> Policy:
        """The policy that the renewals are weighed by."""
        return Policy(
            labour_per_hour=amount_of(self.labour_per_hour)[0],
            call_back=amount_of(self.call_back)[0],
            scrap_from=self.scrap_from,
        )

    def new_price(self, design: str) -> int | None:
        """Price of a new hoist of a design, minor units; None where the shop has none."""
        found = next((new.price for new in self.new_hoists if new.design == design), "")
        return amount_of(found)[0] if found else None

    @property
    def scrap(self) -> int:
        """What an old hoist brings, minor units."""
        return amount_of(self.scrap_value)[0]


Found = tuple[tuple[str | int, ...], str, str]
"""Key path, what was read, what may stand there."""


def charge_faults(charges: Charges | None) -> Iterator[Found]:
    """What is wrong with the charges of a shop file."""
    if charges is None:
        return
    if not _CODE.fullmatch(charges.currency):
        yield ("charges", "currency"), repr(charges.currency), "a code such as GBP or EUR"
    for name in ("labour_per_hour", "call_back", "scrap_value"):
        yield from _amount(("charges", name), getattr(charges, name), charges.currency)
    if not 0 < charges.scrap_from <= 2:
        yield ("charges", "scrap_from"), f"{charges.scrap_from}", "a share such as 0.6"
    if not 1 <= charges.valid_days <= 3650:
        yield ("charges", "valid_days"), f"{charges.valid_days}", "1 to 3650 days"
    seen: set[str] = set()
    for at, new in enumerate(charges.new_hoists):
        path = ("charges", "new_hoists", at)
        yield from _amount((*path, "price"), new.price, charges.currency)
        if new.design in seen:
            yield (*path, "design"), f"{new.design!r} a second time", "each design once"
        seen.add(new.design)


def _amount(path: tuple[str | int, ...], text: str, currency: str) -> Iterator[Found]:
    try:
        _, code = amount_of(text)
    except MoneyError as error:
        yield path, error.read, error.expected
        return
    if code and code != currency:
        yield path, repr(text), f"an amount in {currency}"
