"""Form factor of a tooth, proved by rolling the cutting rack point by point.

Independent route: the rack's rounded tip is moved along as the blank turns; the fillet is
what it leaves. Of that curve the points are taken as numbers, the root section is where the
curve leans 30 deg against the middle line, and the tip force is laid on as a line.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

from hoistwright.physics.gear_strength import lewis_form_factor
from hoistwright.physics.tooth_form import form_factor_from_shape

ALPHA = np.deg2rad(20)


def rolled(z: int, x: float, depth: float, rho: float) -> float:
    """Y from points, module 1; the tooth stands on the +y axis, its right side is looked at."""
    r = z / 2
    # Centre of the rack's rounding in the space to the right of the tooth: so far from the
    # middle of the tooth along the pitch line, and so deep. The straight flank cuts the
    # rack's reference line a quarter pitch from the middle of the tooth.
    deep = depth - rho - x
    aside = np.pi / 4 + (depth - rho) * np.tan(ALPHA) + rho / np.cos(ALPHA)
    turn = np.linspace(-1.2, 1.2, 40001)
    # Blank turned by `turn`, the rack moved on by r * turn; pitch point at (0, r).
    cx, cy = aside + r * turn, r - deep
    # The rounding touches the blank on the line from the pitch point through its centre.
    long = np.hypot(cx, cy - r)
    px, py = cx + rho * cx / long, cy + rho * (cy - r) / long
    # Turned back into the blank.
    gx = px * np.cos(turn) - py * np.sin(turn)
    gy = px * np.sin(turn) + py * np.cos(turn)
    lean = np.arctan2(np.gradient(gx, turn), -np.gradient(gy, turn))
    wanted = np.deg2rad(30)
    inside = (gx > 0) & (gy > 0) & (gy < r)
    crossings = np.flatnonzero(
        np.diff(np.sign(np.cos(lean) * np.sin(wanted) - np.sin(lean) * np.cos(wanted))) != 0
    )
    hits = [n for n in crossings if inside[n] and abs(np.tan(lean[n]) - np.tan(wanted)) < 0.05]
    n = min(hits, key=lambda k: gx[k])
    piece = slice(n - 5, n + 7)
    spread = CubicSpline(turn[piece], np.tan(lean[piece]) - np.tan(wanted))
    where = brentq(lambda t: float(spread(t)), turn[n - 1], turn[n + 2])
    half_section = float(CubicSpline(turn[piece], gx[piece])(where))
    level = float(CubicSpline(turn[piece], gy[piece])(where))
    # Tip corner of the involute, and the force there: along the tangent to the base circle.
    base, tip = r * np.cos(ALPHA), r + 1 + x
    roll = np.sqrt((tip / base) ** 2 - 1)
    start = (np.pi / 4 + x * np.tan(ALPHA)) / r + np.tan(ALPHA) - ALPHA  # half angle at base
    polar = start - (roll - np.arctan(roll))
    corner = tip * np.array([np.sin(polar), np.cos(polar)])
    foot = base * np.array([np.sin(start - roll), np.cos(start - roll)])
    along = (corner - foot) / np.linalg.norm(corner - foot)
    crossing = corner[1] - corner[0] * along[1] / along[0]
    arm = crossing - level
    across = abs(along[0]) / np.cos(ALPHA)  # of the tangential force
    return float((2 * half_section) ** 2 / (6 * arm * across))


@pytest.mark.parametrize(
    ("z", "x"), [(8, 0.5), (10, 0.4), (12, 0.0), (12, 0.3), (17, 0.0), (25, -0.2), (60, 0.0)]
)
def test_formula_against_the_rolled_rack(z: int, x: float) -> None:
    assert form_factor_from_shape(z, x) == pytest.approx(rolled(z, x, 1.25, 0.38), rel=2e-3)


def test_near_the_table_of_lewis() -> None:
    """Other construction of the root section, another fillet: within 20 %, same trend."""
    z = np.arange(12, 100)
    shape, table = np.asarray(form_factor_from_shape(z)), np.asarray(lewis_form_factor(z))
    assert np.all(np.abs(shape / table - 1) < 0.20)
    assert np.all(np.diff(shape) > 0)


def test_profile_shift_strengthens_small_pinions() -> None:
    x = np.asarray([0.2, 0.3, 0.4, 0.5])
    assert np.all(np.diff(np.asarray(form_factor_from_shape(8, x))) > 0)


@pytest.mark.parametrize(
    ("x", "fillet", "words"),
    [
        (-8.0, 0.38, "below the base circle"),
        (1.3, 0.38, "pointed"),
        (3.0, 0.38, "no root section"),
        (0.0, 0.9, "can hold"),
    ],
)
def test_shapes_that_cannot_be_are_refused(x: float, fillet: float, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        form_factor_from_shape(12, x, fillet=fillet)
