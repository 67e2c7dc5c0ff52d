"""ISO 6336-2: elasticity factor Z_E = 189.8 sqrt(N/mm2) for steel on steel; AGMA rounds its
like to 2300 sqrt(psi) (both from memory). And Hertz's line contact by its own integral.
"""

from __future__ import annotations

from math import cos, pi, radians, sin, sqrt

import pytest
from scipy.integrate import quad

from hoistwright.physics.gear_strength import contact_stress


def factor(modulus: float, poisson: float) -> float:
    """Elasticity factor back from the stress: p / sqrt(F / b * curvature / cos(alpha))."""
    alpha = radians(20)
    curvature = 2 / sin(alpha) * (1 / 0.030 + 1 / 0.100)
    stress = float(contact_stress(1000, 0.02, 0.030, 0.100, modulus, poisson))
    return stress / sqrt(1000 / 0.02 / cos(alpha) * curvature)


def test_iso_6336_2_steel_on_steel() -> None:
    assert factor(206e9, 0.3) / 1e3 == pytest.approx(189.8, abs=0.05)


def test_agma_elastic_coefficient() -> None:
    psi = 6894.757
    assert factor(30e6 * psi, 0.3) / sqrt(psi) == pytest.approx(2300, rel=0.01)  # rounded there


def test_half_ellipse_of_pressure_carries_the_force() -> None:
    """Hertz (Johnson, Contact Mechanics): half width 2 p R / E', ellipse sums to F / b."""
    alpha = radians(20)
    p = float(contact_stress(1000, 0.02, 0.030, 0.100))
    R = sin(alpha) / 2 / (1 / 0.030 + 1 / 0.100)
    half = 2 * p * R * 2 * (1 - 0.3**2) / 206e9
    summed, _ = quad(lambda x: p * sqrt(max(0.0, 1 - (x / half) ** 2)), -half, half)
    assert summed == pytest.approx(1000 / 0.02 / cos(alpha), rel=1e-6)
    assert half * p * pi / 2 == pytest.approx(summed, rel=1e-6)
