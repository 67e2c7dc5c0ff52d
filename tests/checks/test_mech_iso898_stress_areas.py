"""ISO 898-1, nominal stress areas of coarse metric threads, mm2 (table from memory).

The table rounds to three figures.
"""

from __future__ import annotations

import numpy as np
import pytest

from hoistwright.physics.bolts import tensile_stress_area

TABLE = {
    (5, 0.8): 14.2,
    (6, 1.0): 20.1,
    (8, 1.25): 36.6,
    (10, 1.5): 58.0,
    (12, 1.75): 84.3,
    (16, 2.0): 157.0,
    (20, 2.5): 245.0,
}


def test_coarse_threads() -> None:
    d, pitch = np.asarray(list(TABLE)).T
    area = np.asarray(tensile_stress_area(d / 1e3, pitch / 1e3)) * 1e6
    assert area == pytest.approx(list(TABLE.values()), rel=4e-3)
    assert [float(f"{a:.3g}") for a in area] == list(TABLE.values())
