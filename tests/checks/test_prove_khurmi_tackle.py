"""Khurmi, Engineering Mechanics, ch. 10: efficiency found from load, pull and velocity ratio.

Examples 10.2 (VR 30, 125 N lifts 1500 N: 40 %) and 10.4 (VR 10, 100 N lifts 840 N: 84 %),
driven through the proof's own evaluation. Tolerance: rounding only. A machine of any velocity
ratio stands for the book's: its hand radius is set so.
"""

from __future__ import annotations

import datetime
import math

import attrs
import pytest

from hoistwright.basis.loading import shipped_basis
from hoistwright.hoist.library import shipped
from hoistwright.metrology import Gauge
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.evaluate import evaluate
from hoistwright.prove.machine import machine_of
from hoistwright.prove.record import ProofRecord, Pull, Readings
from hoistwright.prove.tests_needed import Done, needed_tests
from hoistwright.quantity import Dimension

DAY = datetime.date(2026, 11, 25)
BALANCE = Gauge(
    "B", "balance", "spring balance", Dimension.FORCE, 1e-6, 0.0, calibrated_on=DAY, due_on=DAY
)


@pytest.mark.parametrize(
    ("ratio", "load", "pull", "printed"), [(30, 1500, 125, 0.40), (10, 840, 100, 0.84)]
)
def test_examples_10_2_and_10_4(ratio: float, load: float, pull: float, printed: float) -> None:
    hoist = machine_of(shipped("ardle-500"))
    hoist = attrs.evolve(hoist, hand_radius=ratio / (2 * math.pi * hoist.turns_per_lift))
    assert hoist.velocity_ratio == pytest.approx(ratio)
    read = Pull(pull=Readings(readings=(pull,), gauge=BALANCE), load=load / STANDARD_GRAVITY)
    needed = needed_tests(
        [Done(part="pawl", role="pawl")], [shipped_basis("b30-hand-hoists").head],
        "hand chain hoist",
    )  # fmt: skip
    found = evaluate(ProofRecord(day=DAY, pulls=(read,)), needed, machine=hoist)
    assert found.of("efficiency").value == pytest.approx(printed)
