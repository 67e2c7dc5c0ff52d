"""Chain, pocket wheels, sheaves and reeving: invariants and cases worked by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.physics.chain import preferred_mass
from hoistwright.physics.chain_wear import (
    crown_wear,
    elongation,
    outside_length,
    permanent_stretch,
    wear_elongation,
)
from hoistwright.physics.pocket_wheel import (
    arm_range,
    effective_diameter,
    engaged_pockets,
    idle_sheave_efficiency,
    load_sheave_efficiency,
    pitch_diameter,
    seats_in_pockets,
)
from hoistwright.physics.reeving import (
    chain_length,
    fall_forces,
    lift_possible,
    links_for,
    live_fall_force,
    live_fall_force_lowering,
    reeving_efficiency,
)


def hang(links: int, p: float, d: float, w: float, stretch: float) -> float:
    """Outside length of links hung in one another one by one, each crown worn inside."""
    crown = d - w
    start = 0.0
    for _ in range(links):
        hole = (start + crown, start + crown + p + stretch + 2 * w)
        end = hole[1] + crown
        start = hole[1] - crown  # the next link's crown bears on this one's from inside
    return end


@settings(deadline=None)
@given(st.floats(0, 0.0008), st.floats(0, 0.001), st.integers(1, 15))
def test_wear_and_stretch_are_told_apart(w: float, stretch: float, n: int) -> None:
    p, d = 0.015, 0.005
    as_new = outside_length(n, p, d)
    assert float(as_new) == pytest.approx(hang(n, p, d, 0, 0), rel=1e-12)
    total = elongation(hang(n, p, d, w, stretch), as_new, n, p)
    left = permanent_stretch(total, wear_elongation(crown_wear(d, d - w), p, n))
    assert float(left) == pytest.approx(stretch / p, abs=1e-12)


def test_a_single_link_does_not_grow_outside_by_wear() -> None:
    assert wear_elongation(0.0003, 0.015, 1) == 0
    assert wear_elongation(0.0003, 0.015, 10**6) == pytest.approx(0.04, rel=1e-5)


@settings(deadline=None)
@given(st.integers(1, 8), st.floats(0.5, 1.0), st.floats(1, 1e5))
def test_falls_carry_the_load_together(n: int, eta: float, load: float) -> None:
    forces = np.asarray(fall_forces(load, n, eta))
    assert forces.sum() == pytest.approx(load, rel=1e-12)
    assert np.all(np.diff(forces) <= 0), "the live fall pulls hardest while raising"
    up, down = live_fall_force(load, n, eta), live_fall_force_lowering(load, n, eta)
    assert down <= load / n * (1 + 1e-12) and up >= load / n * (1 - 1e-12)
    assert float(reeving_efficiency(n, eta)) == pytest.approx(load / (n * float(up)))


@settings(deadline=None)
@given(st.floats(0.5, 30), st.integers(1, 6), st.floats(0, 0.4), st.floats(0, 0.5))
def test_lift_and_chain_length_are_inverse(H: float, n: int, c: float, tail: float) -> None:
    length = chain_length(H, n, c, 0.2, tail)
    assert float(lift_possible(length, n, c, 0.2, tail)) == pytest.approx(H, rel=1e-9)


def test_links_are_odd_and_enough() -> None:
    length = np.linspace(0.02, 3, 300)
    links = np.asarray(links_for(length, 0.015))
    assert np.all(links % 2 == 1)
    assert np.all(links * 0.015 >= length - 1e-9)
    assert np.all(links * 0.015 < length + 2 * 0.015)
    assert links_for(0.03, 0.015, odd=False) == 2


@settings(deadline=None)
@given(st.integers(3, 30), st.floats(2.5, 4.0))
def test_wheel_arms_bracket_the_effective_radius(N: int, ratio: float) -> None:
    p, d = ratio * 0.01, 0.01
    least, greatest = arm_range(N, p, d)
    half = float(effective_diameter(N, p)) / 2
    assert float(least) < half < float(greatest)
    assert float(pitch_diameter(N, p, d)) == pytest.approx(2 * float(greatest))


def test_many_pockets_make_a_drum() -> None:
    ratio = pitch_diameter(200, 0.015, 0.005) / effective_diameter(200, 0.015)
    assert ratio == pytest.approx(1, abs=1e-4)


def test_engaged_pockets() -> None:
    assert engaged_pockets(6, np.pi) == 4, "half a turn of six: both ends and two between"
    assert engaged_pockets(4, 2 * np.pi) == 4, "never more than there are"


def test_a_new_chain_seats_and_a_long_one_climbs() -> None:
    assert seats_in_pockets(0.0265, 0.015, 0.005, 0.015, 3)
    assert not seats_in_pockets(0.0265, 0.0154, 0.005, 0.015, 3)
    assert not seats_in_pockets(0.0245, 0.015, 0.005, 0.015, 3), "pocket shorter than the link"


def test_sheave_losses_in_the_limit() -> None:
    assert load_sheave_efficiency(0.0) == idle_sheave_efficiency(0.0) == 1
    with pytest.raises(ValueError, match="would not turn"):
        idle_sheave_efficiency(1.0)
    assert idle_sheave_efficiency(0.01) == pytest.approx(
        float(load_sheave_efficiency(0.01)) ** 2, abs=2e-4
    )


def test_preferred_mass_of_a_preferred_mass_is_itself() -> None:
    series = np.asarray([0.8, 1, 1.25, 500, 630, 3200, 4000, 8000, 10000])
    assert np.asarray(preferred_mass(series)) == pytest.approx(series)
    assert np.asarray(preferred_mass(series * 0.999)) == pytest.approx(
        [0.63, 0.8, 1, 400, 500, 2500, 3200, 6300, 8000]
    )


def test_links_of_an_absurd_reeving_are_refused() -> None:
    with pytest.raises(ValueError, match="no hoist is reeved so"):
        reeving_efficiency(65, 0.9)
