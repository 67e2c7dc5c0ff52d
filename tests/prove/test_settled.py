"""What a competent person may settle: open tests both ways, more tests, never fewer."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.basis.loading import shipped_bases, shipped_basis
from hoistwright.prove.settled import Settled, Stated
from hoistwright.prove.tests_needed import STATED, Done, needed_tests

WORK = [
    Done(part="load_chain", role="load_chain"),
    Done(part="pawl", role="pawl"),
    Done(part="data_plate", role="data_plate"),
]


@given(
    done=st.lists(st.sampled_from(WORK), unique=True),
    bases=st.lists(st.sampled_from(sorted(shipped_bases())), min_size=1, max_size=3, unique=True),
    applies=st.booleans(),
)
def test_nobody_talks_a_needed_test_away(done: list[Done], bases: list[str], applies: bool) -> None:
    heads = [shipped_basis(key).head for key in bases]
    before = needed_tests(done, heads, "hand chain hoist", rated_load=2000.0)
    settled = {
        (test.basis, test.name): Settled(applies=applies, by="odile", reason="r")
        for test in before.asked
    }
    after = needed_tests(done, heads, "hand chain hoist", rated_load=2000.0, settled=settled)
    kept = {(test.basis, test.name) for test in after.needed}
    assert kept >= {(test.basis, test.name) for test in before.needed}
    assert not after.unsettled
    if applies:
        assert len(after.needed) == len(after.asked)


def test_a_stated_load_joins_those_of_the_bases() -> None:
    heads = [shipped_basis("b30-hand-hoists").head]
    stated = Stated(load_from=1.1, load_to=1.2, by="Odile", reason="the customer's own rule")
    found = needed_tests(WORK, heads, "hand chain hoist", rated_load=2000.0, stated=stated)
    assert found.band == (1.1, 1.2)
    assert found.extent == "proof load"
    assert STATED in {test.name for test in found.needed}


@pytest.mark.parametrize(("low", "high"), [(0.0, 1.0), (1.2, 1.1), (float("nan"), 1.0)])
def test_a_stated_band_that_is_none_is_refused(low: float, high: float) -> None:
    with pytest.raises(ValueError, match="expected 0 < from ≤ to"):
        Stated(load_from=low, load_to=high, by="Odile")
