"""Boresi and Schmidt, Advanced Mechanics of Materials, 6th ed., example 9.1 (p. 326).

Square section 50 x 50 mm, radii 30 and 80 mm, 9.5 kN acting 100 mm beyond the centre of
curvature, so 155 mm from the centroid. Figures as published transcriptions carry them.
"""

from __future__ import annotations

import pytest

from hoistwright.physics.hook import hook_stresses, rectangle


def test_example_9_1_stresses_at_both_fibres() -> None:
    inner, outer = hook_stresses(rectangle(0.030, 0.050, 0.050), 9500.0, 0.155)
    assert inner == pytest.approx(106.1817e6, rel=1e-6)  # printed 106.2
    assert outer == pytest.approx(-49.3181e6, rel=1e-6)  # printed -49.3


def test_table_9_2_neutral_radius_of_a_rectangle() -> None:
    """Closed form of the table, h / ln(r_o / r_i), against our integral."""
    from math import log

    assert rectangle(0.030, 0.050, 0.050).neutral == pytest.approx(0.05 / log(8 / 3), rel=1e-12)
