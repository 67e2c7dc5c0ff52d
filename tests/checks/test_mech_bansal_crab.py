"""Bansal, Engineering Mechanics, examples 9.17 and 9.17A: double purchase winch crab.

A crab is a hand hoist with a lever for a hand wheel: drum diameter as load sheave, twice
the handle as hand wheel, the two gear pairs as the train.
"""

from __future__ import annotations

import pytest

from hoistwright.physics.drive import hand_chain_per_lift, hand_pull, lever_pull, shaft_torque
from hoistwright.physics.gears import train_ratio
from hoistwright.physics.limiter import slip_load


def test_example_9_17() -> None:
    """Handle 80 cm, drum diameter 20 cm, 100/10 and 200/20 teeth: VR 800; at 50 % the
    effort of 40 N lifts 16 kN."""
    i = train_ratio(10, 100, 20, 200)
    assert hand_chain_per_lift(1, i, 0.20, 2 * 0.80) == pytest.approx(800)
    assert lever_pull(shaft_torque(16e3, 0.20, 1, i, 0.5), 0.80) == pytest.approx(40.0)
    assert slip_load(40 * 0.80, 0.20, 1, i, 0.5) == pytest.approx(16e3)


def test_example_9_17_a() -> None:
    """Drum 20, handle 40 cm, 45/15 and 40/20 teeth, 40 %, 250 N: effort 26.04 N."""
    i = train_ratio(15, 45, 20, 40)
    pull = hand_pull(shaft_torque(250, 0.20, 1, i, 0.4), 2 * 0.40)
    assert pull == pytest.approx(26.04, abs=0.005)
