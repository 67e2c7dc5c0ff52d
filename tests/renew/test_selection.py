"""Selection: alternatives, circles, forced things; invariants. Optima: see the checks."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.renew.flow import Network, minimum_cut
from hoistwright.renew.selection import Problem, closure, select

NOTHING: frozenset[int] = frozenset()


def test_a_shared_step_is_paid_once() -> None:
    """Neither part alone is worth the step of 7; both together are."""
    assert closure([4, 4, -7], [[2], [2], []]) == {0, 1, 2}
    assert closure([4, 2, -7], [[2], [2], []]) == frozenset()


def test_the_cheaper_way_in_is_taken() -> None:
    found = select(
        Problem(
            worth=(10, -3, -2),
            needs=(NOTHING,) * 3,
            groups=((0, frozenset({1, 2})),),
        )
    )
    assert (found.chosen, found.worth, found.exact) == (frozenset({0, 2}), 8, True)


def test_two_steps_do_not_vouch_for_each_other() -> None:
    """1 comes after 2 or 3, 2 after 1 or 3: without 3 neither can begin."""
    circle = Problem(
        worth=(20, -1, -1, -5),
        needs=(frozenset({1}), NOTHING, NOTHING, NOTHING),
        groups=((1, frozenset({2, 3})), (2, frozenset({1, 3}))),
    )
    found = select(circle)
    assert (found.chosen, found.worth) == (frozenset({0, 1, 3}), 14)


def test_what_must_be_is_taken_at_a_loss() -> None:
    found = select(Problem(worth=(-5, -3), needs=(frozenset({1}), NOTHING), forced=frozenset({0})))
    assert (found.chosen, found.worth) == (frozenset({0, 1}), -8)


def test_forced_things_that_cannot_be_done_are_told() -> None:
    circle = Problem(
        worth=(1, -1),
        needs=(frozenset({1}), frozenset({0})),
        forced=frozenset({0}),
    )
    with pytest.raises(ValueError, match="expected a way to each"):
        select(circle)


def test_giving_up_is_told_with_a_bound() -> None:
    # 0 may be reached by 1 or 2, 1 only by 3 or 4: the first cut breaks a group
    problem = Problem(
        worth=(10, -1, -4, -5, -5),
        needs=(NOTHING,) * 5,
        groups=((0, frozenset({1, 2})), (1, frozenset({3, 4}))),
    )
    whole = select(problem)
    assert (whole.worth, whole.exact) == (6, True)
    with pytest.raises(ValueError, match="not settled after 1 cuts"):
        select(problem, most_branches=1)
    part = select(problem, most_branches=3)
    assert part.worth <= whole.worth <= part.at_most


@given(
    st.lists(st.integers(-20, 20), min_size=1, max_size=8),
    st.lists(st.tuples(st.integers(0, 7), st.integers(0, 7)), max_size=12),
)
def test_a_closure_is_closed_and_never_worse_than_nothing(
    worth: list[int], arcs: list[tuple[int, int]]
) -> None:
    count = len(worth)
    needs: list[set[int]] = [set() for _ in worth]
    for tail, head in arcs:
        needs[tail % count].add(head % count)
    chosen = closure(worth, needs)
    assert all(needs[at] <= chosen for at in chosen)
    assert sum(worth[at] for at in chosen) >= 0


def test_bad_networks_are_refused() -> None:
    network = Network(2)
    with pytest.raises(ValueError, match="expected a whole number from 0"):
        network.arc(0, 1, -1)
    with pytest.raises(ValueError, match="expected two nodes"):
        minimum_cut(network, 1, 1)


@given(
    st.lists(
        st.tuples(st.integers(0, 5), st.integers(0, 5), st.integers(0, 9)), min_size=1, max_size=14
    ),
    st.integers(0, 14),
)
def test_arcs_added_to_a_cut_network_give_the_cut_of_the_whole(
    arcs: list[tuple[int, int, int]], at: int
) -> None:
    """The flow that is there already is a flow of the greater network, too."""
    whole, grown = Network(6), Network(6)
    for tail, head, room in arcs:
        whole.arc(tail, head, room)
    for tail, head, room in arcs[:at]:
        grown.arc(tail, head, room)
    before, _ = minimum_cut(grown, 0, 5)
    copied = grown.copy()
    for tail, head, room in arcs[at:]:
        copied.arc(tail, head, room)
    more, side = minimum_cut(copied, 0, 5)
    value, expected = minimum_cut(whole, 0, 5)
    assert (before + more, side) == (value, expected)
    assert minimum_cut(grown, 0, 5) == (0, minimum_cut(grown, 0, 5)[1])  # untouched by its copy
