"""Wentzell, Machine Design, examples 12.1 to 12.5: Lewis equation with Barth's factor.

Inch units throughout (the formulas hold in any consistent unit): the module is 1 / P_d, the
reference speed 600 ft/min. The book rounds on the way: 0.1 %.
"""

from __future__ import annotations

from math import cos, pi, radians, tan

import pytest

from hoistwright.physics.gear_strength import lewis_stress, tooth_force, velocity_factor


def test_examples_12_1_and_12_2_tooth_forces() -> None:
    """5 hp at 1725 rpm, 20 teeth, P_d 8: D 2.5 in, 146.09 lb, 53.17 and 155.46 lb."""
    torque = 5 * 33000 * 12 / (2 * pi * 1725)
    force = tooth_force(torque, 1 / 8, 20)
    assert force == pytest.approx(146.09, rel=1e-3)
    assert force * tan(radians(20)) == pytest.approx(53.17, rel=1e-3)
    assert force / cos(radians(20)) == pytest.approx(155.46, rel=1e-3)
    assert pi * 2.5 / 12 * 1725 == pytest.approx(1129.0, rel=1e-4)


@pytest.mark.parametrize(
    ("strength", "form", "printed"), [(0.5 * 95e3, 0.320, 1900.0), (0.5 * 88e3, 0.421, 2315.5)]
)
def test_example_12_3_force_a_tooth_carries(strength: float, form: float, printed: float) -> None:
    assert lewis_stress(printed, 1.0, 1 / 8, form) == pytest.approx(strength, rel=1e-6)


def test_example_12_4_dynamic_force() -> None:
    assert 146.09 * velocity_factor(1129.0, 600) == pytest.approx(420.7, rel=1e-3)


def test_example_12_5_power_of_a_pair() -> None:
    """24 teeth, P_d 12, width 0.75, Y 0.302, 1800 rpm, 27.5 ksi: 519.06 and 201.91 lb."""
    speed = pi * 24 / 12 / 12 * 1800
    assert speed == pytest.approx(942.48, rel=1e-5)
    assert lewis_stress(519.06, 0.75, 1 / 12, 0.302) == pytest.approx(27.5e3, rel=1e-5)
    running = lewis_stress(201.91, 0.75, 1 / 12, 0.302, velocity_factor(speed, 600))
    assert running == pytest.approx(27.5e3, rel=1e-4)
    assert 201.91 * speed / 33000 == pytest.approx(5.769, rel=1e-3)
