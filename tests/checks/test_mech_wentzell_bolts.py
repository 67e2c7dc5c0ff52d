"""Wentzell, Machine Design, examples 6.1 and 6.4: preload and torque T = K F d (inch, lb)."""

from __future__ import annotations

import pytest

from hoistwright.physics.bolts import preload, preload_from_torque, tightening_torque


def test_example_6_1() -> None:
    """0.334 in2, 85 ksi, 85 %, K 0.2, 3/4 in: 24 131.5 lb and 3619.73 lb in."""
    force = preload(0.85, 85e3, 0.334)
    assert force == pytest.approx(24131.5, rel=1e-9)
    assert tightening_torque(force, 0.75, 0.20) == pytest.approx(3619.73, abs=0.006)


def test_example_6_4() -> None:
    """1 1/4 in, 1.073 in2, 90 % of 120 ksi, K 0.15: 21 728.25 lb in."""
    torque = tightening_torque(preload(0.9, 120e3, 1.073), 1.25, 0.15)
    assert torque == pytest.approx(21728.25, rel=1e-9)
    assert preload_from_torque(torque, 1.25, 0.15) == pytest.approx(0.9 * 120e3 * 1.073)
