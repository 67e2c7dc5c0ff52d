"""Mott, Machine Elements in Mechanical Design, example 17-1 (p. 703).

Acme thread, flank 14.5 deg, 12 500 lb, pitch diameter 1.3429 in, lead 0.25 in, f = 0.15.
The book rounds the lead angle to 3.39 deg and prints 1809 lb in; exact 1814.41. It uses
the half angle as ours does, so the exact value is held to 0.02 % and the printed to 0.5 %.
"""

from __future__ import annotations

import numpy as np
import pytest

from hoistwright.physics.screw import (
    lead_angle,
    loosen_torque,
    screw_efficiency,
    thread_friction_angle,
    tighten_torque,
)

LAMBDA = lead_angle(0.25, 1.3429 / 2)
PHI = thread_friction_angle(0.15, np.deg2rad(14.5))


def test_lead_angle() -> None:
    assert np.rad2deg(LAMBDA) == pytest.approx(3.3913, abs=5e-5)


def test_torque_to_raise_and_lower() -> None:
    up = tighten_torque(12500, 1.3429 / 2, LAMBDA, PHI)
    assert up == pytest.approx(1814.41, rel=2e-4)
    assert up == pytest.approx(1809, rel=5e-3)  # printed
    assert loosen_torque(12500, 1.3429 / 2, LAMBDA, PHI) == pytest.approx(795.72, rel=2e-4)


def test_efficiency() -> None:
    assert screw_efficiency(LAMBDA, PHI) == pytest.approx(0.27412, rel=2e-4)
