"""Shigley, Mechanical Engineering Design, example 8-1 (input from memory, recomputed).

Square thread, 32 mm, double start of pitch 4 mm, 6.4 kN, f = f_c = 0.08, collar 40 mm:
raising 26.18 N m, lowering 9.77 N m, efficiency 0.311. The thread alone runs back (its
lowering torque is below 0): it is the collar that holds, as the discs do in a load brake.
"""

from __future__ import annotations

from math import pi

import pytest

from hoistwright.physics.load_brake import lock_ratio
from hoistwright.physics.screw import (
    collar_torque,
    lead_angle,
    loosen_torque,
    thread_friction_angle,
    tighten_torque,
)

F, LEAD, RADIUS = 6400.0, 0.008, 0.015
LAMBDA, PHI = lead_angle(LEAD, RADIUS), thread_friction_angle(0.08)
COLLAR = collar_torque(F, 0.08, 0.020)


def test_torque_to_raise() -> None:
    thread = tighten_torque(F, RADIUS, LAMBDA, PHI)
    assert thread == pytest.approx(15.9370, rel=1e-5)
    assert thread + COLLAR == pytest.approx(26.1770, rel=1e-5)
    assert thread + COLLAR == pytest.approx(26.18, abs=0.005)  # printed


def test_torque_to_lower() -> None:
    thread = loosen_torque(F, RADIUS, LAMBDA, PHI)
    assert thread == pytest.approx(-0.4656, rel=2e-4)
    assert thread + COLLAR == pytest.approx(9.7744, rel=1e-5)
    assert thread + COLLAR == pytest.approx(9.77, abs=0.005)  # printed


def test_efficiency_with_collar() -> None:
    raise_torque = tighten_torque(F, RADIUS, LAMBDA, PHI) + COLLAR
    assert F * LEAD / (2 * pi * raise_torque) == pytest.approx(0.3113, abs=5e-5)


def test_the_collar_of_this_screw_would_not_lock_a_load_brake() -> None:
    """10.24 N m of face against 15.94 N m of thread for one clamp force: S = 0.6425."""
    S = lock_ratio(0.08, 0.020, RADIUS, LAMBDA, PHI)
    assert pytest.approx(10.2400 / 15.9370, rel=1e-5) == S
