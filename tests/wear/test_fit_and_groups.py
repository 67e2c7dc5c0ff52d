"""What must hold of every fit: slopes, shrinkage, honest width, order does not matter."""

from __future__ import annotations

import attrs
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.metrology.arrays import Floats
from hoistwright.wear.checking import model_check
from hoistwright.wear.fitting import Options, fit
from hoistwright.wear.likelihood import likelihood, slopes
from hoistwright.wear.spread import Spread
from hoistwright.wear.state import group_rate, states
from hoistwright.wear.visits import Visits, regular_visits


def fleet(seed: int, hoists: int = 60, *, unknown_start: bool = False) -> Visits:
    rng = np.random.default_rng(seed)
    groups = [(f"design {h % 3}", f"duty {h % 2}") for h in range(hoists)]
    mean = 0.1 + 0.05 * np.array([h % 3 for h in range(hoists)])[:, None]
    t = np.cumsum(rng.uniform(0.5, 1.5, (hoists, 4)), axis=1)
    y = rng.normal(mean, 0.02) * t + rng.normal(0, 0.02, t.shape)
    y[rng.random(y.shape) < 0.1] = np.nan
    start_u = np.where(np.arange(hoists) % 4 == 0, np.nan, 0.01) if unknown_start else 0.01
    return regular_visits(t, y, 0.02, groups=groups, start_u=start_u)


def moved(spread: Spread, name: str, step: float) -> Spread:
    if name == "start_rate":
        return attrs.evolve(spread, start_rate=spread.start_rate + step)
    if name.startswith("level"):
        levels = list(spread.levels)
        levels[int(name[-1]) - 1] *= float(np.exp(step))
        return attrs.evolve(spread, levels=tuple(levels))
    return attrs.evolve(spread, **{name: getattr(spread, name) * float(np.exp(step))})


@pytest.mark.parametrize("reml", [True, False])
@settings(max_examples=15, deadline=None)
@given(
    sizes=st.lists(st.floats(0.02, 0.5), min_size=5, max_size=5),
    rho=st.floats(-0.8, 0.8),
    seed=st.integers(0, 1000),
)
def test_slopes_are_those_of_the_likelihood(
    reml: bool, sizes: list[float], rho: float, seed: int
) -> None:
    """Against central differences of the likelihood, which knows no adjoint."""
    visits = fleet(seed, 24, unknown_start=True)
    visits.fresh[2, 5:9] = True
    spread = Spread(
        rate=sizes[0],
        wander=sizes[1],
        start=sizes[2],
        start_rate=rho,
        noise=1.3,
        levels=(sizes[3], sizes[4]),
    )
    exact, _ = slopes(visits, spread, likelihood(visits, spread, reml=reml))
    for name, value in exact.items():
        ends = [
            likelihood(visits, moved(spread, name, step), reml=reml).log_likelihood
            for step in (1e-4, -1e-4)
        ]
        assert value == pytest.approx((ends[0] - ends[1]) / 2e-4, rel=1e-4, abs=2e-4), name


def test_a_hoist_with_one_reading_lies_between_its_own_and_its_group() -> None:
    rng = np.random.default_rng(1)
    y = rng.normal(0.1, 0.02, (50, 1)) * [1.0, 2.0, 3.0] + rng.normal(0, 0.02, (50, 3))
    y[0] = [0.25, np.nan, np.nan]
    visits = regular_visits([1.0, 2.0, 3.0], y, 0.02)
    found = fit(visits)
    state = states(visits, found)
    assert found.mean_rate < state.v[0] < 0.25
    assert state.pvv[0] > 1.5 * np.median(state.pvv[1:])


def test_the_less_is_known_of_a_group_the_wider_the_answer() -> None:
    visits = fleet(2)
    found = fit(visits)
    known = group_rate(found, visits, ("design 0", "duty 0"))
    new_duty = group_rate(found, visits, ("design 0", "duty 9"))
    new_design = group_rate(found, visits, ("design 9", "duty 0"))
    assert known[1] < new_duty[1] < new_design[1]
    assert known[0] == pytest.approx(0.10, abs=0.03)
    assert new_design[0] == pytest.approx(0.15, abs=0.06)  # the fleet's own mean


def test_a_group_without_hoists_is_refused_where_hoists_are_stacked() -> None:
    with pytest.raises(ValueError, match="not in the fitted tree"):
        fleet(2).tree.leaves_of([("design 9", "duty 0")])


def test_the_order_of_hoists_does_not_matter() -> None:
    visits = fleet(3)
    turned = visits.part(slice(None, None, -1))
    a, b = fit(visits), fit(turned)
    assert a.spread.rate == pytest.approx(b.spread.rate, rel=1e-5)
    assert states(visits, a).v == pytest.approx(states(turned, b).v[::-1], rel=1e-5)


def test_rows_in_blocks_give_the_same_as_all_at_once() -> None:
    visits = fleet(4, 60)
    found = fit(visits)
    whole = states(visits, found)
    part = states(visits.part(slice(20, 40)), found)
    assert part.x.tolist() == whole.x[20:40].tolist()


def with_wrong_reading() -> tuple[Visits, Floats]:
    rng = np.random.default_rng(6)
    y = rng.normal(0.1, 0.02, (80, 1)) * np.arange(1.0, 6) + rng.normal(0, 0.02, (80, 5))
    right = y.copy()
    y[7, 2] += 0.4  # twenty standard uncertainties
    return regular_visits(np.arange(1.0, 6), y, 0.02), right


def test_a_wrong_reading_is_pointed_out_and_kept() -> None:
    visits, _ = with_wrong_reading()
    check = model_check(visits, fit(visits))
    first = check.suspects[0]
    assert (first.column, first.slot) == (7, 2)
    assert first.z > 8
    assert "It is kept." in first.sentence("mm")
    assert np.isfinite(visits.value[2, 7])


def test_heavy_tails_keep_a_wrong_reading_from_moving_the_rest() -> None:
    visits, right = with_wrong_reading()
    clean = regular_visits(np.arange(1.0, 6), right, 0.02)
    truth = states(clean, fit(clean))
    plain, heavy = fit(visits), fit(visits, Options(tails="heavy"))
    assert heavy.weights is not None
    assert heavy.weights[2, 7] == heavy.weights.min()
    by_plain = states(visits, plain)
    by_heavy = states(visits, heavy, heavy.weights)
    assert abs(by_heavy.v[7] - truth.v[7]) < abs(by_plain.v[7] - truth.v[7]) / 3 + 0.002
    assert heavy.spread.wander < plain.spread.wander
    suspects = model_check(visits, heavy).suspects
    assert (suspects[0].column, suspects[0].slot) == (7, 2)


def test_left_out_means_are_those_of_a_fleet_without_the_reading() -> None:
    """The residual recursion against taking the reading out for good (same hyperparameters)."""
    visits = fleet(9, 12, unknown_start=True)
    spread = Spread(rate=0.03, wander=0.04, start=0.1, start_rate=0.3, levels=(0.05, 0.02))
    point = likelihood(visits, spread)
    _, back = slopes(visits, spread, point)
    last = 3  # the state after the last slot is what the others say of it
    for h in np.flatnonzero(visits.read[last])[:5]:
        value = visits.value.copy()
        value[last, h] = np.nan
        without = attrs.evolve(visits, value=value)
        found = likelihood(without, spread)
        run, mean = found.filtered, found.means.leaf_mean[:, visits.leaf[h]]
        C = found.means.leaf_covariance[:, :, visits.leaf[h]]
        answer = run.x[1:, h]
        expected = run.x[0, h] + answer @ mean
        variance = run.pxx[h] + answer @ C @ answer + visits.u[last, h] ** 2
        assert back.expected[last, h] == pytest.approx(expected, rel=1e-8)
        assert back.expected_sd[last, h] == pytest.approx(np.sqrt(variance), rel=1e-8)


@pytest.mark.parametrize(
    ("hoists", "rate", "words"), [(3, 0.1, "Only 3 hoists"), (40, -0.05, "not above zero")]
)
def test_reasons_for_doubt(hoists: int, rate: float, words: str) -> None:
    rng = np.random.default_rng(11)
    y = rate * np.arange(1.0, 4) + rng.normal(0, 0.01, (hoists, 3))
    visits = regular_visits(np.arange(1.0, 4), y, 0.01)
    assert any(words in doubt for doubt in model_check(visits, fit(visits)).trust)


def test_wear_that_speeds_up_is_told() -> None:
    rng = np.random.default_rng(12)
    t = np.arange(1.0, 6)
    y = rng.normal(0.02, 0.002, (60, 1)) * t**2 + rng.normal(0, 0.005, (60, 5))
    visits = regular_visits(t, y, 0.005)
    trust = model_check(visits, fit(visits)).trust
    assert any("faster wear" in doubt for doubt in trust)


def test_a_good_fleet_gives_no_reason_for_doubt() -> None:
    visits = fleet(21, 90)
    check = model_check(visits, fit(visits))
    assert check.trust == ()
    assert sum(check.pit) == check.readings
