"""Shigley, Mechanical Engineering Design, examples 10-1 and 10-8 (inputs from memory,
recomputed; inch, lb).
"""

from __future__ import annotations

from math import pi

import pytest

from hoistwright.physics.springs import helical_rate, torsion_rate


def test_example_10_1_compression_spring() -> None:
    """Wire 0.037 in, outside 7/16 in, 12.5 turns squared (10.5 active), G 11.85 Mpsi:
    4.13 lbf/in."""
    rate = helical_rate(0.037, 0.400, 10.5, 11.85e6)
    assert rate == pytest.approx(4.13, abs=0.005)


def test_example_10_8_torsion_spring() -> None:
    """Wire 0.072, coil 0.521 in, 4.25 turns and two 1 in legs, E 28.5 Mpsi: 29.2 lbf in for
    a turn. The book's 10.8 allows for friction on the pin where theory has 64 / 2 pi = 10.19."""
    active = 4.25 + 2 / (3 * pi * 0.521)
    per_turn = torsion_rate(0.072, 0.521, active, 28.5e6) * 2 * pi
    assert per_turn * (64 / (2 * pi)) / 10.8 == pytest.approx(29.2, abs=0.05)
