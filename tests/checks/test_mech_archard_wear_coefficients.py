"""Open encyclopaedia article "Wear coefficient": V = K P L / (3 H), mild steel on mild steel
K = 7e-3. At Brinell 120 (H = 1.1768e9 Pa): 1.983e-3 mm3 for each N m.
"""

from __future__ import annotations

import pytest

from hoistwright.physics.wear import archard_volume

H = 120 * 9.80665e6


def test_mild_steel_on_mild_steel() -> None:
    assert pytest.approx(1.1768e9, rel=1e-5) == H
    assert archard_volume(7e-3, 1.0, 1.0, H) * 1e9 == pytest.approx(1.983e-3, abs=5e-7)


def test_the_convention_without_the_three() -> None:
    with_three = archard_volume(7e-3, 50.0, 200.0, H)
    without = archard_volume(7e-3 / 3, 50.0, 200.0, H, divisor=1)
    assert without == pytest.approx(float(with_three), rel=1e-12)
