"""Loads of tests as the sources state them, from the shipped bases to the load that is hung.

ASME B30.16 16-2.2, from memory: 100 to 125 % after repair. ASME HST-3-2017, read: repaired
lever hoists at least 100 %, new ones 125 %; none for the lifting medium alone. EN 13157, as far
as confirmed: static 1.5 below 20 t and 1.25 from 20 t, at least 10 min, by the maker. 29 CFR
1919.31, read: 150 %. Exact figures, no tolerance.
"""

from __future__ import annotations

import pytest

from hoistwright.basis.loading import shipped_basis
from hoistwright.prove.tests_needed import Done, NeededTests, needed_tests

PAWL = [Done(part="pawl", role="pawl")]
CHAIN = [Done(part="load_chain", role="load_chain")]


def asked(needed: NeededTests, name: str) -> tuple[float | None, float | None, float | None]:
    test = next(test for test in needed.asked if test.name == name)
    return test.load_from, test.load_to, test.hold


def test_b30_16_after_repair() -> None:
    needed = needed_tests(PAWL, [shipped_basis("b30-hand-hoists").head], "hand chain hoist")
    assert needed.band == (1.0, 1.25)


def test_hst_3_lever_hoists() -> None:
    head = shipped_basis("b30-hand-hoists").head
    needed = needed_tests(PAWL, [head], "lever hoist")
    assert asked(needed, "load test of a repaired lever hoist")[:2] == (1.0, None)
    assert asked(needed, "load test of a new lever hoist")[:2] == (1.25, None)
    assert needed.band is not None
    assert needed.band[0] == 1.0
    new = needed_tests([], [head], "lever hoist", new=True)
    assert new.band is not None
    assert new.band[0] == 1.25
    assert needed_tests(CHAIN, [head], "lever hoist").band is None


def test_en_13157_is_the_makers_and_asks_nothing_of_a_repair() -> None:
    head = shipped_basis("europe-round-link").head
    needed = needed_tests(PAWL, [head], "hand chain hoist")
    assert asked(needed, "static test below 20 t") == (1.5, None, 600.0)
    assert asked(needed, "static test from 20 t") == (1.25, None, 600.0)
    assert not needed.needed
    assert needed.extent == "not established"


@pytest.mark.parametrize(("rated", "share"), [(2_000, 1.5), (19_999, 1.5), (20_000, 1.25)])
def test_en_13157_for_a_new_hoist_goes_by_its_rated_load(rated: float, share: float) -> None:
    head = shipped_basis("europe-round-link").head
    needed = needed_tests([], [head], "hand chain hoist", new=True, rated_load=rated)
    assert needed.band is not None
    assert needed.band[0] == share
    assert needed.hold == 600.0


def test_29_cfr_1919_31() -> None:
    head = shipped_basis("us-federal").head
    needed = needed_tests([], [head], "hand chain hoist", marine_cargo_gear=True)
    assert needed.band is not None
    assert needed.band[0] == 1.5
