"""Ripple in a pull over time: known waves come back, unknown paths give none."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.physics import pocket_wheel
from hoistwright.prove.machine import machine_of
from hoistwright.prove.pocket_ripple import arm, pocket_ripple
from hoistwright.prove.record import Floats, PullSeries
from hoistwright.prove.series import orders, series_figures

MACHINE = machine_of(shipped("ardle-2000"))


def series(pull: Floats, theta: Floats, path: bool = True) -> PullSeries:
    travel = theta * 2 * np.pi * MACHINE.hand_radius
    time = theta / 0.5
    return PullSeries(time=time, pull=pull, load=2000, travel=travel if path else None)


@given(
    st.fixed_dictionaries(
        {name: st.floats(0.0, 0.2) for name in orders(MACHINE)},
    )
)
@settings(max_examples=40, deadline=None)
def test_known_waves_come_back(sizes: dict[str, float]) -> None:
    theta = np.linspace(0, 60, 4000)
    pull = 300 * (
        1
        + sum(
            size * np.cos(2 * np.pi * orders(MACHINE)[name] * theta + at)
            for at, (name, size) in enumerate(sizes.items())
        )
    )
    found = series_figures(series(np.asarray(pull), theta), MACHINE, 0.0)
    assert found.mean.value == pytest.approx(300, rel=0.01)
    for name, size in sizes.items():
        assert found.ripple[name].value == pytest.approx(size, abs=0.006)


def test_uneven_speed_does_not_matter_where_the_path_is_known() -> None:
    theta = 60 * np.linspace(0, 1, 4000) ** 1.5
    pull = 300 * (1 + 0.1 * np.cos(2 * np.pi * theta))
    time = np.linspace(0, 120, 4000)
    travel = theta * 2 * np.pi * MACHINE.hand_radius
    found = series_figures(PullSeries(time=time, pull=pull, load=2000, travel=travel), MACHINE, 0.0)
    assert found.ripple["ripple_shaft"].value == pytest.approx(0.1, abs=0.003)


def test_noise_gives_its_own_uncertainty() -> None:
    """White noise of 2 %: an amplitude's u is 0.02 sqrt(2/n), and most amplitudes lie below 3 u."""
    rng = np.random.default_rng(5)
    theta = np.linspace(0, 60, 4000)
    found = series_figures(series(300 * (1 + rng.normal(0, 0.02, 4000)), theta), MACHINE, 0.0)
    for ripple in found.ripple.values():
        assert ripple.u == pytest.approx(0.02 * np.sqrt(2 / 3680), rel=0.1)
        assert ripple.value < 4 * ripple.u


def test_without_a_path_there_is_no_ripple_and_the_reason_is_said() -> None:
    theta = np.linspace(0, 60, 1000)
    found = series_figures(series(300 + 0 * theta, theta, path=False), MACHINE, 0.0)
    assert found.ripple == {}
    assert "not known" in found.why_none
    known = series_figures(
        series(300 + 0 * theta, theta, path=False), MACHINE, 60 * 2 * np.pi * MACHINE.hand_radius
    )
    assert known.ripple


def test_too_short_a_lift_gives_no_ripple() -> None:
    theta = np.linspace(0, 10, 1000)
    found = series_figures(series(300 + 0 * theta, theta), MACHINE, 0.0)
    assert "turns of the load sheave" in found.why_none


def test_readings_too_far_apart_leave_the_teeth_out() -> None:
    theta = np.linspace(0, 60, 300)
    found = series_figures(series(300 + 0 * theta, theta), MACHINE, 0.0)
    assert "ripple_mesh" not in found.ripple
    assert "ripple_shaft" in found.ripple


def test_nine_readings_are_refused() -> None:
    with pytest.raises(ValueError, match="10 or more"):
        series_figures(series(np.ones(9), np.arange(9.0)), MACHINE, 0.0)


@pytest.mark.parametrize("key", shipped_keys())
def test_the_arm_stays_within_its_bounds(key: str) -> None:
    """Bounds by `pocket_wheel.arm_range`, mean by the chain that one turn moves."""
    hoist = machine_of(shipped(key))
    around = arm(np.linspace(0, 1, 40_001)[:-1], hoist.pockets, hoist.pitch, hoist.wire)
    low, high = pocket_wheel.arm_range(hoist.pockets, hoist.pitch, hoist.wire)
    assert around.min() == pytest.approx(float(low), rel=1e-3)
    assert around.max() == pytest.approx(float(high), rel=1e-6)
    assert around.mean() == pytest.approx(hoist.sheave / 2, rel=1e-4)


def test_more_pockets_ripple_less() -> None:
    ripples = [pocket_ripple(pockets, 0.024, 0.008) for pockets in (3, 4, 5, 6, 8)]
    assert ripples == sorted(ripples, reverse=True)
