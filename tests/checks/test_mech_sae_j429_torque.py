"""Torque table after SAE J429 grades 5 and 8 as engineers' handbooks print it (inch, lb)."""

from __future__ import annotations

import pytest

from hoistwright.physics.bolts import NUT_FACTORS, preload, tightening_torque


@pytest.mark.parametrize(("K", "printed"), [(0.15, 57), (0.18, 68), (0.20, 75)])
def test_half_inch_grade_5_clamped_to_9046_pounds(K: float, printed: int) -> None:
    torque = tightening_torque(9046, 0.5, K) / 12  # ft lb
    assert torque == pytest.approx(printed, abs=0.5)


def test_three_quarter_inch_grade_8() -> None:
    """75 % of 120 ksi on 0.334 in2: 30 060 lb, 375.75 ft lb (printed 30 101 and 376)."""
    force = preload(0.75, 120e3, 0.334)
    assert force == pytest.approx(30060, rel=1e-9)
    assert force == pytest.approx(30101, rel=2e-3)  # printed, from a finer area
    assert tightening_torque(force, 0.75, 0.20) / 12 == pytest.approx(375.75, rel=1e-9)


def test_shigley_nut_factors_in_order() -> None:
    """Shigley, table 8-15 (memory): dry above oiled above anti-seize."""
    assert NUT_FACTORS["dry"] > NUT_FACTORS["oiled"] > NUT_FACTORS["anti-seize"]
