"""Popov, Mechanics of Materials, curved against straight beam (about p. 316).

Square section 50 x 50 mm under 2.083 kN m: straight +-99.984 MPa; mean radius 250 mm
+107.093 and -93.681; mean radius 75 mm +128.734 and -81.030. Values recomputed to the
printed precision.
"""

from __future__ import annotations

import numpy as np
import pytest

from hoistwright.physics.hook import bending_stress, circle, rectangle

MOMENT = 2083.0


@pytest.mark.parametrize(
    ("mean_radius", "inner", "outer"),
    [(0.250, 107.093e6, -93.681e6), (0.075, 128.734e6, -81.030e6)],
)
def test_curved(mean_radius: float, inner: float, outer: float) -> None:
    section = rectangle(mean_radius - 0.025, 0.050, 0.050)
    assert bending_stress(section, MOMENT, section.inner) == pytest.approx(inner, rel=1e-5)
    assert bending_stress(section, MOMENT, section.outer) == pytest.approx(outer, rel=1e-5)


def test_straight_limit_keeps_its_digits() -> None:
    """A million times the depth: the straight beam to a part in a million."""
    section = rectangle(np.asarray([5e2, 5e4]), 0.050, 0.050)
    straight = MOMENT * 6 / 0.050**3
    assert straight == pytest.approx(99.984e6)
    inner = bending_stress(section, MOMENT, section.inner)
    assert np.asarray(inner) == pytest.approx([straight] * 2, rel=1e-4)
    assert inner[1] == pytest.approx(straight, rel=1e-6)


def test_slight_curvature_of_a_round_bar() -> None:
    """e tends to I / (r_c A) (Shigley, eq. 3-66, the approximation for slight curvature)."""
    bar = circle(10.0, 0.02)
    assert bar.eccentricity == pytest.approx(0.02**2 / 16 / bar.centroid, rel=1e-6)
