"""Bansal, Engineering Mechanics, examples 9.17 and 9.17A: crabs as machines to be proved.

Handle 80 cm, drum 20 cm, 100/10 and 200/20 teeth: VR 800, 40 N lifts 16 kN at 50 %. Handle
40 cm, drum 20 cm, 45/15 and 40/20, 40 %: 26.04 N lifts 250 N (printed to 0.01 N; exact 26.0417).
"""

from __future__ import annotations

import math

import attrs
import pytest

from hoistwright.hoist.library import shipped
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.machine import Machine, machine_of


def crab(handle: float, drum: float, ratio: float, eta: float) -> Machine:
    """One fall on a drum, all losses in one figure."""
    return attrs.evolve(
        machine_of(shipped("ardle-500")),
        falls=1, idle=1.0, sheave=drum, ratio=ratio, hand_radius=handle, mesh=1.0, rest=eta,
    )  # fmt: skip


def test_example_9_17() -> None:
    machine = crab(0.80, 0.20, (100 / 10) * (200 / 20), 0.5)
    assert machine.velocity_ratio == pytest.approx(800)
    assert machine.pull_up(16e3 / STANDARD_GRAVITY) == pytest.approx(40.0)


def test_example_9_17_a() -> None:
    machine = crab(0.40, 0.20, (45 / 15) * (40 / 20), 0.4)
    assert machine.velocity_ratio == pytest.approx(24)
    assert machine.pull_up(250 / STANDARD_GRAVITY) == pytest.approx(26.04, abs=0.005)
    assert machine.turns_per_lift * math.pi * 0.20 == pytest.approx(6)
