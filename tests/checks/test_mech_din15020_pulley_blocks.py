"""DIN 15020-1: efficiency of pulley blocks by falls (table from memory, two figures).

One sheave 0.96 on plain and 0.98 on rolling bearings.
"""

from __future__ import annotations

import numpy as np
import pytest

from hoistwright.physics.reeving import fall_forces, live_fall_force, reeving_efficiency

FALLS = [2, 3, 4, 5, 6, 7, 8]
PLAIN = [0.98, 0.96, 0.94, 0.92, 0.91, 0.89, 0.87]
ROLLING = [0.99, 0.98, 0.97, 0.96, 0.95, 0.94, 0.93]


@pytest.mark.parametrize(("sheave", "row"), [(0.96, PLAIN), (0.98, ROLLING)])
def test_efficiency_table(sheave: float, row: list[float]) -> None:
    found = np.asarray(reeving_efficiency(FALLS, sheave))
    assert found == pytest.approx(row, abs=0.0051)


def test_closed_form_of_the_same_clause() -> None:
    """(1 - eta^n) / [n (1 - eta)], and the falls together carry the load."""
    n = np.asarray(FALLS)
    closed = (1 - 0.96**n) / (n * (1 - 0.96))
    assert np.asarray(reeving_efficiency(n, 0.96)) == pytest.approx(closed, rel=1e-12)
    forces = fall_forces(12e3, 4, 0.96)
    assert forces.sum() == pytest.approx(12e3, rel=1e-12)
    assert forces[0] == pytest.approx(float(live_fall_force(12e3, 4, 0.96)))
