"""Textbook exercise on a trapezoidal hook section (fig. 6.12, printed answer 136.51 MPa
tension and 75.86 MPa compression): depth 50, inner width 60, outer width 30 mm, inner
radius 40 mm, 30 kN through the centre of curvature.

The printed answer was worked by hand, so it is held to 0.3 %; the value from the closed form
of int(dA/r) for a trapezoid (Boresi and Schmidt, table 9.2) is held to 1e-9.
"""

from __future__ import annotations

from math import log

import pytest

from hoistwright.physics.hook import hook_stresses, trapezoid

SECTION = trapezoid(0.040, 0.050, 0.060, 0.030)


def test_section_properties() -> None:
    assert SECTION.area == pytest.approx(2250e-6)
    assert SECTION.centroid == pytest.approx(62.2222e-3, rel=1e-6)
    bi, bo, ri, ro, h = 0.060, 0.030, 0.040, 0.090, 0.050
    ring = (bi * ro - bo * ri) / h * log(ro / ri) - (bi - bo)
    assert SECTION.neutral == pytest.approx(2250e-6 / ring, rel=1e-9)
    assert SECTION.eccentricity == pytest.approx(3.19520e-3, rel=1e-5)


def test_stresses() -> None:
    inner, outer = hook_stresses(SECTION, 30e3)
    assert inner == pytest.approx(136.842e6, rel=1e-4)
    assert outer == pytest.approx(-76.023e6, rel=1e-4)
    assert inner == pytest.approx(136.51e6, rel=3e-3)  # printed
    assert outer == pytest.approx(-75.86e6, rel=3e-3)  # printed
