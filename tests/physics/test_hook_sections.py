"""Hook sections against integration over the area by a general quadrature."""

from __future__ import annotations

from math import cos, sin, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from hoistwright.physics.hook import (
    bending_stress,
    circle,
    hook_stresses,
    rectangle,
    throat_growth,
    trapezoid,
)

sizes = st.floats(0.005, 0.1)


@settings(deadline=None)
@given(sizes, sizes, sizes, sizes)
def test_stress_of_a_trapezoid_balances_force_and_moment(
    inner: float, depth: float, bi: float, bo: float
) -> None:
    """The stress over the section must add up to no force and to the moment."""
    section = trapezoid(inner, depth, bi, bo)

    def width(r: float) -> float:
        return bi + (bo - bi) * (r - inner) / depth

    def stress(r: float) -> float:
        return float(bending_stress(section, 100.0, r))

    ends = (inner, inner + depth)
    size, _ = quad(lambda r: abs(stress(r)) * width(r), *ends)
    force, _ = quad(lambda r: stress(r) * width(r), *ends)
    moment, _ = quad(lambda r: stress(r) * width(r) * (float(section.centroid) - r), *ends)
    assert abs(force) < 1e-7 * size
    assert moment == pytest.approx(100.0, rel=1e-7)


@settings(deadline=None)
@given(sizes, sizes)
def test_stress_of_a_round_bar_balances_force_and_moment(inner: float, d: float) -> None:
    section = circle(inner, d)
    middle = inner + d / 2

    def turned(t: float) -> float:
        radius = middle - d / 2 * cos(t)
        strip = d * sin(t) * d / 2 * sin(t)
        return float(bending_stress(section, 100.0, radius)) * strip * (middle - radius)

    moment, _ = quad(turned, 0, np.pi)
    assert moment == pytest.approx(100.0, rel=1e-7)


def test_sections_broadcast() -> None:
    section = trapezoid(np.asarray([[0.03], [0.04]]), 0.05, np.asarray([0.06, 0.05, 0.04]), 0.03)
    inner, outer = hook_stresses(section, 1e4)
    assert inner.shape == outer.shape == (2, 3)
    one = hook_stresses(trapezoid(0.04, 0.05, 0.05, 0.03), 1e4)
    assert inner[1, 1] == pytest.approx(float(one[0]), rel=1e-14)
    assert np.ndim(one[0]) == 0


def test_a_worn_section_is_stressed_more() -> None:
    new, _ = hook_stresses(rectangle(0.02, 0.025, 0.018), 1e4)
    worn, _ = hook_stresses(rectangle(0.0225, 0.0225, 0.018), 1e4)
    assert worn > 1.1 * new


def test_radius_outside_the_section_is_refused() -> None:
    with pytest.raises(ValueError, match="outside the section"):
        bending_stress(rectangle(0.02, 0.025, 0.018), 10.0, 0.05)


def test_circle_neutral_radius_without_loss_of_digits() -> None:
    """e = (r_c - sqrt(r_c^2 - a^2)) / 2, where that difference still has its digits."""
    bar = circle(0.01, 0.02)
    assert bar.eccentricity == pytest.approx((0.02 - sqrt(0.02**2 - 0.01**2)) / 2, rel=1e-13)


def test_closed_throat_is_below_zero() -> None:
    assert throat_growth(0.029, 0.030) == pytest.approx(-1 / 30)
