"""Hibbeler, Mechanics of Materials, curved beams: eye hook of round bar.

Bar radius 0.625 in, centroid 3.125 in from the centre of curvature, 800 lb. The book takes
the moment about the neutral line (15.8 and -10.5 ksi); moment and direct stress belong to
the centroid, which gives 15.970 and -10.647 ksi. The section figures are the book's.
"""

from __future__ import annotations

import pytest

from hoistwright.physics.hook import circle, hook_stresses

EYE = circle(2.5, 1.25)  # inches: the formulas hold in any one unit of length


def test_section() -> None:
    assert EYE.area == pytest.approx(1.227185, rel=1e-6)
    assert EYE.area / EYE.neutral == pytest.approx(0.396707, rel=1e-5)  # int(dA / r)
    assert EYE.neutral == pytest.approx(3.09343, rel=1e-5)
    assert EYE.eccentricity == pytest.approx(0.031569, rel=1e-4)


def test_stresses_with_the_moment_about_the_centroid() -> None:
    inner, outer = hook_stresses(EYE, 800.0)
    assert inner == pytest.approx(15970, rel=1e-4)
    assert outer == pytest.approx(-10647, rel=1e-4)
