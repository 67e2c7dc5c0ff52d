"""Three sets of hook limits, each whole in its own basis and never mixed.

Sources: ASME B30.10-2005 (text read: throat 5 % and at most 1/4 in, wear 10 % of the section or
the load pin, any visible bend or twist); 29 CFR 1910.179 (text read: throat more than 15 % of
normal, twist more than 10 degrees); DIN 15405-1 (through a trade reference: throat 10 %, wear
5 %). ASME B30.10 before 2005, throat 15 %, twist 10 degrees, wear 10 %: from memory.
"""

from __future__ import annotations

import datetime
import math

import pytest

from hoistwright.basis.limit_value import criterion_limit
from hoistwright.basis.loading import shipped_basis
from hoistwright.basis.model import Criterion

TODAY = datetime.date(2026, 11, 25)
OLD = datetime.date(1999, 6, 1)

SETS = [
    ("b30-hand-hoists", TODAY, "hook.throat", "rise from as new", 0.05),
    ("b30-hand-hoists", TODAY, "hook.throat", "rise by", 0.006),
    ("b30-hand-hoists", TODAY, "hook.saddle_depth", "loss from as new", 0.10),
    ("b30-hand-hoists", TODAY, "hook.twist", "at most", None),
    ("b30-hand-hoists", OLD, "hook.throat", "rise from as new", 0.15),
    ("b30-hand-hoists", OLD, "hook.throat", "rise by", None),
    ("b30-hand-hoists", OLD, "hook.twist", "at most", math.radians(10)),
    ("b30-hand-hoists", OLD, "hook.saddle_depth", "loss from as new", 0.10),
    ("us-federal", TODAY, "hook.throat", "rise from as new", 0.15),
    ("us-federal", TODAY, "hook.twist", "at most", math.radians(10)),
    ("us-federal", TODAY, "hook.saddle_depth", "loss from as new", None),
    ("europe-round-link", TODAY, "hook.throat", "rise from as new", 0.10),
    ("europe-round-link", TODAY, "hook.saddle_depth", "loss from as new", 0.05),
    ("europe-round-link", TODAY, "hook.twist", "at most", None),
]


@pytest.mark.parametrize(("key", "day", "feature", "comparison", "limit"), SETS)
def test_limit(
    key: str, day: datetime.date, feature: str, comparison: str, limit: float | None
) -> None:
    found = [
        criterion_limit(c, day)
        for c in shipped_basis(key).criteria
        if (c.feature, c.comparison) == (feature, comparison) and c.use == "decides"
    ]
    values = [f.si for f in found if f is not None]
    assert values == ([] if limit is None else [pytest.approx(limit, rel=1e-15)])


def test_on_hand_hoist_hooks_the_5_percent_governs() -> None:
    """6 mm is 5 % of a 120 mm throat (1/4 in of 127 mm): no hand hoist's hook opens so wide."""
    limits = {
        c.comparison: criterion_limit(c, TODAY) for c in _of("b30-hand-hoists", "hook.throat")
    }
    share, cap = limits["rise from as new"], limits["rise by"]
    assert share is not None
    assert cap is not None
    assert share.si is not None
    assert cap.si == pytest.approx(0.120 * share.si, rel=1e-12)


def _of(key: str, feature: str) -> list[Criterion]:
    return [c for c in shipped_basis(key).criteria if c.feature == feature]


def test_no_set_cites_another_sets_source() -> None:
    own = {
        "b30-hand-hoists": {"asme-b30.10", "asme-b30.16"},
        "us-federal": {"29-cfr-1910.179"},
        "europe-round-link": {"din-15405-1"},
    }
    for key, sources in own.items():
        cited = {
            limit.source
            for c in shipped_basis(key).criteria
            if c.feature.startswith("hook.")
            for limit in c.limit
        }
        assert cited == sources


def test_the_crane_rule_says_that_it_is_by_analogy() -> None:
    for criterion in shipped_basis("us-federal").criteria:
        if criterion.use == "decides":
            assert "overhead and gantry cranes" in criterion.by_analogy
