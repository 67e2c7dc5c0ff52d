"""Invariants of the passage law, the wear date and the next visit."""

from __future__ import annotations

import datetime

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.basis.model import Interval
from hoistwright.wear.due import time_until
from hoistwright.wear.next_visit import interval_day, next_visit, wear_day
from hoistwright.wear.passage import beyond_by
from hoistwright.wear.state import State, known_state, new_part

DAY = datetime.date(2026, 3, 1)


def interval(months: int = 0, days: int = 0) -> Interval:
    return Interval(
        name="normal service",
        months=months,
        days=days,
        kind="periodic",
        source="a source",
        clause="1",
        edition="2020",
        known="practice",
    )


some_state = st.builds(
    known_state,
    st.floats(0.0, 0.99),
    st.floats(-0.1, 0.4),
    st.floats(0.005, 0.1),
    st.floats(0.005, 0.1),
    correlation=st.floats(-0.9, 0.9),
    wander=st.floats(0.02, 0.2),
)


@settings(max_examples=150, deadline=None)
@given(some_state, st.floats(0.01, 5), st.floats(1.05, 3))
def test_chance_grows_with_time_and_stays_a_chance(state: State, time: float, more: float) -> None:
    soon, late = beyond_by(state, 1.0, time), beyond_by(state, 1.0, time * more)
    assert 0 <= soon <= late + 1e-6
    assert late <= 1


@settings(max_examples=100, deadline=None)
@given(some_state, st.floats(0.1, 3))
def test_passage_is_never_less_likely_than_being_beyond_at_the_end(
    state: State, time: float
) -> None:
    """Whoever is beyond at the end has passed: P(passage) ≥ P(x(T) > L)."""
    from scipy.special import ndtr

    mean, sd = state.after(time)
    assert beyond_by(state, 1.0, time) >= ndtr((mean - 1) / sd) - 1e-6


@settings(max_examples=100, deadline=None)
@given(some_state, st.floats(0.1, 3), st.floats(0.01, 0.5))
def test_a_further_limit_is_safer(state: State, time: float, more: float) -> None:
    assert beyond_by(state, 1 + more, time) <= beyond_by(state, 1.0, time) + 1e-6


@settings(max_examples=100, deadline=None)
@given(some_state, st.sampled_from([0.01, 0.05, 0.2, 0.5]))
def test_the_wear_date_is_when_the_chance_is_reached(state: State, p: float) -> None:
    until = time_until(state, 1.0, p, longest=40.0)
    now, far = beyond_by(state, 1.0, 0.0), beyond_by(state, 1.0, 40.0)
    if until == 0:
        assert now >= p - 1e-3
    elif np.isinf(until):
        assert far <= p + 1e-3
    elif until > 0.01:
        assert beyond_by(state, 1.0, until) == pytest.approx(p, rel=0.03)


def test_scalars_and_rows_go_the_same_way() -> None:
    rows = known_state(np.array([0.2, 0.5, 0.8]), 0.1, 0.02, 0.03, wander=0.05)
    whole = beyond_by(rows, 1.0, np.array([2.0, 1.0, 0.5]))
    for at, time in enumerate([2.0, 1.0, 0.5]):
        assert beyond_by(rows.one(at), 1.0, time) == pytest.approx(whole[at], rel=1e-9)


def test_no_wander_and_no_doubt_is_certain() -> None:
    sure = known_state(0.0, 0.1, 0.0, 0.0, wander=0.0)
    assert beyond_by(sure, 1.0, 9.99) == pytest.approx(
        0.0, abs=1e-10
    )  # the tails beyond 6.5 standard deviations are left out
    assert beyond_by(sure, 1.0, 10.01) == pytest.approx(
        1.0, abs=1e-10
    )  # the tails beyond 6.5 standard deviations are left out


def test_a_new_part_begins_at_nothing() -> None:
    state = new_part([(0.1, 0.02)], 0.05)
    assert beyond_by(state, 1.0, 0.0)[0] == pytest.approx(
        0.0, abs=1e-10
    )  # the tails beyond 6.5 standard deviations are left out
    assert 5 < time_until(state, 1.0, 0.05, longest=50.0)[0] < 10


@pytest.mark.parametrize(("p", "longest"), [(0.0, 1.0), (0.6, 1.0), (0.1, 0.0), (0.1, np.inf)])
def test_what_cannot_be_asked_is_refused(p: float, longest: float) -> None:
    with pytest.raises(ValueError, match="expected"):
        time_until(known_state(0.1, 0.1, 0.01, 0.01, wander=0.1), 1.0, p, longest=longest)


def test_negative_time_is_refused() -> None:
    with pytest.raises(ValueError, match="expected 0 or more"):
        beyond_by(known_state(0.1, 0.1, 0.01, 0.01, wander=0.1), 1.0, -1.0)


@pytest.mark.parametrize(
    ("last", "months", "days", "due"),
    [
        ("2026-01-31", 1, 0, "2026-02-28"),
        ("2027-12-31", 2, 0, "2028-02-29"),
        ("2026-03-01", 12, 0, "2027-03-01"),
        ("2026-12-30", 0, 7, "2027-01-06"),
    ],
)
def test_intervals_by_the_calendar(last: str, months: int, days: int, due: str) -> None:
    day = datetime.date.fromisoformat(last)
    assert interval_day(day, interval(months, days)).isoformat() == due


def test_the_sooner_of_interval_and_wear_counts() -> None:
    by_wear = next_visit(DAY, [interval(12)], 0.25, what="load chain", probability=0.05)
    assert by_wear.day == by_wear.by_wear == datetime.date(2026, 5, 31)
    assert "load chain" in by_wear.why
    assert "5 %" in by_wear.why
    by_law = next_visit(DAY, [interval(12), interval(6)], 3.0)
    assert by_law.day == by_law.by_interval == datetime.date(2026, 9, 1)
    assert "a source, 1" in by_law.why


def test_wear_that_never_comes_has_no_day() -> None:
    assert wear_day(DAY, np.inf) is None
    assert wear_day(DAY, 1e7) is None
    assert next_visit(DAY, [interval(12)], np.inf).by_wear is None


def test_no_interval_is_refused() -> None:
    with pytest.raises(ValueError, match="expected that of an adopted basis"):
        next_visit(DAY, [], 1.0)
    with pytest.raises(ValueError, match="has no length"):
        interval_day(DAY, interval())
