"""Khurmi and Gupta, Theory of Machines, ch. 10: screw jack 10.10, clutches 10.22, 10.23, 10.28.

Exact values recomputed from the printed input; where the book rounds on the way the printed
figure is held to 0.5 %.
"""

from __future__ import annotations

from math import pi

import pytest

from hoistwright.physics.disc import (
    disc_torque,
    force_at_peak_pressure,
    mean_pressure,
    peak_pressure,
    radius_uniform_pressure,
    radius_uniform_wear,
)
from hoistwright.physics.screw import (
    lead_angle,
    loosen_torque,
    screw_efficiency,
    thread_friction_angle,
    tighten_torque,
)


def test_example_10_10_screw_jack() -> None:
    """Mean diameter 50, pitch 12.5 mm, mu 0.13, 25 kN: printed 132 629 N mm, 37.6 %."""
    lead, phi = lead_angle(12.5, 25.0), thread_friction_angle(0.13)
    up, down = tighten_torque(25e3, 25.0, lead, phi), loosen_torque(25e3, 25.0, lead, phi)
    assert up == pytest.approx(132355, rel=1e-5)
    assert up == pytest.approx(132629, rel=5e-3)  # printed
    assert down == pytest.approx(31191, rel=1e-4)
    assert up / down == pytest.approx(4.243, abs=1e-3)  # printed 4.2
    assert screw_efficiency(lead, phi) == pytest.approx(0.3758, abs=5e-5)  # printed 37.6 %


def test_example_10_22_pressures() -> None:
    """4 kN on a ring of radii 50 and 100 mm, uniform wear."""
    assert peak_pressure(4000, 100, 50) == pytest.approx(0.25465, rel=1e-4)
    assert peak_pressure(4000, 100, 50) * 50 / 100 == pytest.approx(0.12732, rel=1e-4)
    assert mean_pressure(4000, 100, 50) == pytest.approx(0.16977, rel=1e-4)


def test_example_10_23_single_plate_clutch() -> None:
    """300 and 200 mm diameter, 0.1 N/mm2, mu 0.3, both sides, 2500 rpm."""
    force = force_at_peak_pressure(0.1, 150, 100)
    torque = disc_torque(force, 0.3, radius_uniform_wear(0.150, 0.100), 2)
    assert force == pytest.approx(3141.593, rel=1e-6)
    assert torque == pytest.approx(235.619, abs=5e-4)
    assert torque * 2500 * 2 * pi / 60 == pytest.approx(61.685e3, rel=1e-5)


def test_example_10_28_multiple_plates() -> None:
    """Four faces, mu 0.3, 0.127 N/mm2, 500 rpm, radii 125 and 75 mm."""
    force = force_at_peak_pressure(0.127, 125, 75)
    torque = disc_torque(force, 0.3, radius_uniform_wear(0.125, 0.075), 4)
    assert force == pytest.approx(2992.37, rel=1e-5)
    assert torque == pytest.approx(359.084, rel=1e-5)
    assert torque * 500 * 2 * pi / 60 == pytest.approx(18.80e3, rel=1e-3)


def test_uniform_pressure_formula_by_rings() -> None:
    """(2/3)(Ro^3 - Ri^3)/(Ro^2 - Ri^2), the closed form as the chapter prints it."""
    closed = 2 / 3 * (0.15**3 - 0.1**3) / (0.15**2 - 0.1**2)
    assert radius_uniform_pressure(0.150, 0.100) == pytest.approx(closed, rel=1e-12)
