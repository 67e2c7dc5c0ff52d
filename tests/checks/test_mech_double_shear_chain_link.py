"""Textbook example of a chain link with a pin in double shear between two plates.

Pin radius (not diameter) 6.3 mm, 70 MPa in shear, two plates 3.5 x 13 mm at 200 MPa: pin
17.457 kN (printed 17.45), plates 18.2 kN, so the pin governs.
"""

from __future__ import annotations

import pytest

from hoistwright.physics.pins import rod_stress, shear_force, shear_stress


def test_pin_governs() -> None:
    pin = shear_force(70e6, 2 * 0.0063)
    assert pin == pytest.approx(17457, abs=1)
    assert pin == pytest.approx(17450, rel=1e-3)  # printed
    assert rod_stress(18.2e3, 2 * 0.0035 * 0.013) == pytest.approx(200e6)
    assert pin < 18.2e3


def test_single_shear_carries_half() -> None:
    assert shear_stress(8728.5, 0.0126, 1) == pytest.approx(70e6, rel=1e-3)
