"""Series to padded arrays: renewals, missed visits, faults told all at once."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hoistwright.wear.fitting import Options, fit
from hoistwright.wear.series import Series, Start, WearReading, toward_limit
from hoistwright.wear.state import states
from hoistwright.wear.visits import regular_visits, stack


def reading(time: float, value: float, u: float = 0.05) -> WearReading:
    return WearReading(time=time, value=value, uncertainty=u)


def test_every_fault_of_every_series_is_told_at_once() -> None:
    bad = [
        Series(hoist="A 1", starts=()),
        Series(hoist="A 2", starts=(Start(time=2),), readings=(reading(1, 0.1),)),
        Series(hoist="A 3", starts=(Start(time=0),), readings=(reading(1, 0.1, 0.0),)),
        Series(hoist="A 4", starts=(Start(time=0), Start(time=2, value=None))),
    ]
    with pytest.raises(ValueError, match="A 1") as caught:
        stack(bad)
    text = str(caught.value)
    assert "A 2: a reading at 1 is before the first start at 2" in text
    assert "A 3: the reading at 1 has standard uncertainty 0.0; expected" in text
    assert "A 4: renewal 1 has no start value" in text


def test_groups_of_mixed_depth_are_refused() -> None:
    mixed = [
        Series(hoist="A", group=("x",), starts=(Start(time=0),), readings=(reading(1, 0.1),)),
        Series(hoist="B", starts=(Start(time=0),), readings=(reading(1, 0.1),)),
    ]
    with pytest.raises(ValueError, match="depth"):
        stack(mixed)


def test_a_reading_at_the_time_of_a_renewal_is_of_the_old_part() -> None:
    one = Series(
        hoist="A",
        starts=(Start(time=0), Start(time=2, value=0.02, uncertainty=0.01)),
        readings=(reading(2, 0.5), reading(3, 0.2)),
    )
    visits = stack([one])
    assert visits.gap.ravel().tolist() == [2.0, 1.0]
    assert visits.fresh.ravel().tolist() == [True, True]
    assert visits.start.ravel().tolist() == [0.0, 0.02]


def test_a_missed_visit_changes_nothing() -> None:
    rng = np.random.default_rng(5)
    y = rng.normal(0.1, 0.02, (30, 1)) * [1.0, 3.0] + rng.normal(0, 0.02, (30, 2))
    whole = regular_visits([1.0, 3.0], y, 0.02)
    gaps = regular_visits([1.0, 2.0, 3.0], np.insert(y, 1, np.nan, axis=1), 0.02)
    a, b = fit(whole), fit(gaps)
    # the usual gap, and with it a mild assumption, may differ: compare the likelihood itself
    plain = Options(guarded=False)
    assert fit(whole, plain).log_likelihood == pytest.approx(fit(gaps, plain).log_likelihood)
    assert states(whole, a).x.shape == states(gaps, b).x.shape


def test_what_came_before_a_renewal_still_tells_the_rate() -> None:
    """The same hoist wears the next chain: its rate is known from the first."""
    fast = [reading(t, 0.3 * t, 0.02) for t in (1.0, 2.0, 3.0)]
    slow = [reading(t, 0.1 * t, 0.02) for t in (1.0, 2.0, 3.0)]
    fleet = [
        Series(
            hoist=f"{n}",
            starts=(Start(time=0), Start(time=3)),
            readings=tuple(fast if n % 2 else slow),
        )
        for n in range(20)
    ]
    visits = stack(fleet)
    state = states(visits, fit(visits))
    assert state.x == pytest.approx(np.zeros(20), abs=1e-9)  # new again
    assert (state.v[1::2] > 0.25).all()
    assert (state.v[::2] < 0.15).all()


def test_years_and_lifts_give_the_same_forecast() -> None:
    """The unit of time is the user's: rates scale, wear does not."""
    rng = np.random.default_rng(3)
    t = np.cumsum(rng.uniform(0.5, 1.5, (40, 3)), axis=1)
    y = rng.normal(0.1, 0.02, (40, 1)) * t + rng.normal(0, 0.01, t.shape)
    years, lifts = (regular_visits(t * scale, y, 0.01) for scale in (1.0, 1000.0))
    a, b = states(years, fit(years)), states(lifts, fit(lifts))
    assert a.x == pytest.approx(b.x, rel=1e-4)
    assert a.v == pytest.approx(1000 * b.v, rel=1e-3)
    ahead = [s.after(gap)[1] for s, gap in ((a, 1.0), (b, 1000.0))]
    assert ahead[0] == pytest.approx(ahead[1], rel=1e-3)


def test_lower_and_upper_limits_become_one_direction() -> None:
    assert toward_limit(0.0030, 0.0030, 0.0024) == 0
    assert toward_limit(0.0024, 0.0030, 0.0024) == 1
    assert toward_limit(0.0315, 0.030, 0.033) == pytest.approx(0.5)
    with pytest.raises(ValueError, match="expected two figures"):
        toward_limit(0.1, 0.2, 0.2)


def test_readings_that_say_nothing_are_refused_in_words() -> None:
    never = Series(hoist="A", starts=(Start(time=0),), readings=(reading(1, math.nan),))
    with pytest.raises(ValueError, match="say nothing about the mean rate"):
        fit(stack([never]))
