"""Chain tables of 29 CFR 1910.184 and 29 CFR 1926.251: shape, sum, and what they are not for.

Sources: 29 CFR 1910.184 (Slings), table of minimum allowable chain size at any point of a link;
29 CFR 1926.251 (Rigging equipment), table of maximum allowable wear at any point of a link (H-2
in older printings, H-1 in newer). Both from memory, typed independently of one another: that
the nominal size less the wear gives the minimum size exactly, row by row, is what confirms
them. Exact fractions, no tolerance. Eight wear rows were also read in DOE-STD-1090-96 (United
States Department of Energy, Hoisting and Rigging), Table 15-2, printed in sixty-fourths.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from hoistwright.basis.loading import shipped_basis
from hoistwright.basis.model import Criterion

BASIS = shipped_basis("us-federal")
SIZES = ["1/4", "3/8", "1/2", "5/8", "3/4", "7/8", "1", "1 1/8", "1 1/4", "1 3/8", "1 1/2", "1 3/4"]

DOE_TABLE_15_2 = {
    "1/4": (3, 64),
    "3/8": (5, 64),
    "1/2": (7, 64),
    "5/8": (9, 64),
    "3/4": (10, 64),
    "7/8": (11, 64),
    "1": (12, 64),
    "1 1/4": (16, 64),
}


def _criterion(criterion_id: str) -> Criterion:
    return next(c for c in BASIS.criteria if c.id == criterion_id)


def _inches(text: str) -> Fraction:
    figure, unit = text.rsplit(" ", 1)
    assert unit == "in"
    return sum((Fraction(part) for part in figure.split()), Fraction(0))


def _table(criterion_id: str) -> dict[Fraction, Fraction]:
    return {_inches(row.size): _inches(row.value) for row in _criterion(criterion_id).table}


MINIMUM = _table("usfed-sling-chain-minimum-size")
WEAR = _table("usfed-sling-chain-wear")


@pytest.mark.parametrize("name", ["usfed-sling-chain-minimum-size", "usfed-sling-chain-wear"])
def test_shape_twelve_rows_in_rising_order(name: str) -> None:
    sizes = [row.size.removesuffix(" in") for row in _criterion(name).table]
    assert sizes == SIZES
    values = list(_table(name).values())
    assert values == sorted(set(values))


@pytest.mark.parametrize("size", list(MINIMUM), ids=lambda size: f"{size} in")
def test_size_less_wear_is_the_minimum_exactly(size: Fraction) -> None:
    assert size - WEAR[size] == MINIMUM[size]


def test_sums_over_all_rows() -> None:
    """Sizes 11 3/8 in; wear and minimum add up to it (worked by hand in sixty-fourths)."""
    sizes, wear, minimum = sum(WEAR), sum(WEAR.values()), sum(MINIMUM.values())
    assert sizes == Fraction(91, 8)
    assert wear == Fraction(3 + 5 + 7 + 9 + 10 + 11 + 12 + 14 + 16 + 18 + 20 + 22, 64)
    assert wear + minimum == sizes


@pytest.mark.parametrize("size", DOE_TABLE_15_2)
def test_wear_as_printed_in_doe_std_1090_96_table_15_2(size: str) -> None:
    assert WEAR[_inches(f"{size} in")] == Fraction(*DOE_TABLE_15_2[size])


def test_they_allow_18_75_to_22_5_percent_and_so_must_never_judge_a_hoist_chain() -> None:
    """A hoist chain goes at 10 % (DIN 685-5): every row of the sling tables lies beyond it."""
    shares = [wear / size for size, wear in WEAR.items()]
    assert (min(shares), max(shares)) == (Fraction(1875, 10_000), Fraction(225, 1000))
    assert min(shares) > Fraction(10, 100)
    assert {_criterion(f"usfed-sling-chain-{n}").use for n in ("minimum-size", "wear")} == {
        "number check"
    }
