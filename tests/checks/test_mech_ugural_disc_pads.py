"""Ugural, Mechanical Design of Machine Components, example 13.6, and a second pad example.

A sector pad is that part of a full ring: angle / 2 pi. The first text prints 982 lb in
under "both shoes", but it is the torque of one pad face; ours is for one face.
"""

from __future__ import annotations

import pytest

from hoistwright.physics.disc import disc_torque, force_at_peak_pressure, radius_uniform_wear


def test_example_13_6_one_pad_face() -> None:
    """60 deg, diameters 10 and 5 in, f 0.2, 200 psi: 1309 lb, 982 lb in."""
    force = force_at_peak_pressure(200, 5, 2.5) * 60 / 360
    assert force == pytest.approx(1309.0, rel=1e-4)
    torque = disc_torque(force, 0.2, radius_uniform_wear(5, 2.5))
    assert torque == pytest.approx(981.7, rel=1e-4)
    assert torque == pytest.approx(982, abs=0.5)  # printed


def test_pads_of_45_degrees_both_sides() -> None:
    """45 deg, radii 6 and 4 in, f 0.4, 100 psi: 628.32 lb, 2513.3 lb in for two pads."""
    force = force_at_peak_pressure(100, 6, 4) * 45 / 360
    assert force == pytest.approx(628.32, rel=1e-4)
    assert disc_torque(force, 0.4, radius_uniform_wear(6, 4), 2) == pytest.approx(2513.3, rel=1e-4)
