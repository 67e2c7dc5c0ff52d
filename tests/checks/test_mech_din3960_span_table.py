"""DIN 3960 base tangent lengths for module 1 mm, 20 deg, no shift (workshop table, from memory).

And the same lengths from the shape of the teeth: the span is the common tangent of two
opposite involutes, found here by unwinding the base circle point by point.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from hoistwright.physics.gear_span import base_tangent_length, tooth_thickness_from_span

TABLE = {(8, 2): 4.5402, (10, 2): 4.5683, (12, 2): 4.5963, (18, 3): 7.6324, (20, 3): 7.6604}


@pytest.mark.parametrize(("teeth", "printed"), TABLE.items(), ids=str)
def test_workshop_table(teeth: tuple[int, int], printed: float) -> None:
    span = base_tangent_length(1e-3, *teeth)
    assert span * 1e3 == pytest.approx(printed, abs=1.2e-4)


@pytest.mark.parametrize(("z", "k", "x"), [(12, 2, 0.0), (12, 2, 0.4), (20, 3, -0.1), (33, 4, 0.2)])
def test_span_from_the_shape_of_the_flanks(z: int, k: int, x: float) -> None:
    """Largest extent of the k teeth in a direction: disc anvils touch there.

    Right flank of the outermost tooth on one side, left flank of that on the other; by
    mirror symmetry the anvils are parallel to the middle line, and the flank's greatest
    distance from it along the tangent is where its normal is tangent to the base circle.
    """
    alpha = np.deg2rad(20)
    base = z / 2 * np.cos(alpha)
    thickness = np.pi / 2 + 2 * x * np.tan(alpha)  # on the reference circle, module 1
    half = np.pi * (k - 1) / z + thickness / z + np.tan(alpha) - alpha  # at the base circle

    def across(roll: float) -> float:
        # point of the flank after unwinding by `roll`, y counted from the middle line
        x_point = base * (np.cos(half - roll) - roll * np.sin(half - roll))
        y_point = base * (np.sin(half - roll) + roll * np.cos(half - roll))
        assert x_point > 0
        return float(-y_point)

    found = minimize_scalar(across, bounds=(0.0, 1.2), method="bounded", options={"xatol": 1e-12})
    span = base_tangent_length(1.0, z, k, x)
    assert span == pytest.approx(-2 * found.fun, rel=1e-9)
    assert tooth_thickness_from_span(span, 1.0, z, k) == pytest.approx(thickness, rel=1e-12)
