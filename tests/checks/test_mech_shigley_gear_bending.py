"""Shigley, Mechanical Engineering Design, example 14-1 (from memory, recomputed).

P = 8, 16 teeth, face 1.5 in, Y 0.296, 10 kpsi, 1200 rpm: V 628 ft/min, K_v 1.52, 365 lbf.
"""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from hoistwright.physics.gear_strength import lewis_form_factor, lewis_stress, velocity_factor


def test_example_14_1() -> None:
    speed = pi * (16 / 8) / 12 * 1200
    factor = velocity_factor(speed, 1200)
    assert factor == pytest.approx(1.5236, abs=5e-5)
    assert lewis_stress(364.27, 1.5, 1 / 8, 0.296, factor) == pytest.approx(10e3, rel=1e-4)
    assert lewis_stress(365, 1.5, 1 / 8, 0.296, factor) == pytest.approx(10e3, rel=3e-3)  # printed


def test_table_14_2_form_factors() -> None:
    """A second transcription of some rows, and straight lines in 1/z between them."""
    rows = {12: 0.245, 16: 0.296, 20: 0.322, 24: 0.337, 30: 0.359, 50: 0.409, 100: 0.447}
    found = lewis_form_factor(list(rows))
    assert np.asarray(found) == pytest.approx(list(rows.values()), abs=1e-12)
    every = np.asarray(lewis_form_factor(np.arange(10, 500)))
    assert np.all(np.diff(every) > 0) and every[-1] < 0.485
