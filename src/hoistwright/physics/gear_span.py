"""Measuring a spur gear: over teeth with disc anvils, and from its tip diameter.

A technician without a drawing counts teeth, measures over k of them and over the tips, and
gets module, profile shift and tooth thickness, and with them the wear of the flanks.
"""

from __future__ import annotations

import numpy as np

from hoistwright.physics.gears import PRESSURE_ANGLE, involute, pressure_angle, tooth_count
from hoistwright.physics.guard import Array, Num, finite, positive, whole


def span_teeth(z: Num, alpha: Num = PRESSURE_ANGLE) -> Array:
    """Teeth to measure over so that the anvils touch near the reference circle.

    k = round(z alpha / pi + 0.5), at least 2

    Args:
        z: teeth, whole, any shape.
        alpha: pressure angle, rad, broadcast.

    Returns:
        Count (whole numbers as floats), broadcast shape. Meant for small profile shift.

    Raises:
        ValueError: z is not whole or alpha out of range.

    >>> print(span_teeth([12, 20, 40]))
    [2. 3. 5.]

    References:
        DIN 3960, from memory.
    """
    result: Array = np.maximum(
        np.round(tooth_count(z, "z") * pressure_angle(alpha) / np.pi + 0.5), 2
    )
    return result


def base_tangent_length(
    module: Num, z: Num, k: Num, x: Num = 0.0, alpha: Num = PRESSURE_ANGLE
) -> Array:
    """Span measurement over k teeth with disc anvils, tooth without backlash allowance.

    W = m cos(alpha) [(k - 1/2) pi + z inv(alpha)] + 2 x m sin(alpha)

    Args:
        module: m, m (metres), any shape.
        z: teeth, whole, broadcast.
        k: teeth between the anvils, whole, broadcast.
        x: profile shift in modules, broadcast.
        alpha: pressure angle, rad, broadcast.

    Returns:
        Length, m, broadcast shape.

    Raises:
        ValueError: module not above 0, z or k not whole, alpha out of range.

    >>> print(f"{base_tangent_length(0.001, 20, 3) * 1e3:.4f}")
    7.6604

    References:
        DIN 3960 / ISO 21771 (base tangent length), from memory.
    """
    m, alpha = positive(module, "module, m"), pressure_angle(alpha)
    turns = (whole(k, "teeth spanned") - 0.5) * np.pi + tooth_count(z, "z") * involute(alpha)
    shift = 2 * finite(x, "profile shift") * m * np.sin(alpha)
    result: Array = m * np.cos(alpha) * turns + shift
    return result


def tooth_thickness_from_span(
    span: Num, module: Num, z: Num, k: Num, alpha: Num = PRESSURE_ANGLE
) -> Array:
    """Tooth thickness on the reference circle (arc), from a span measurement.

    s = m z [(W - (k - 1) pi m cos(alpha)) / (m z cos(alpha)) - inv(alpha)]

    Args:
        span: W, measured, m, any shape.
        module: m, m (metres), broadcast.
        z: teeth, whole, broadcast.
        k: teeth between the anvils, whole, broadcast.
        alpha: pressure angle, rad, broadcast.

    Returns:
        Thickness, m, broadcast shape; pi m / 2 for an unshifted tooth without wear. Wear
        that is not even over the flank shows more at the anvils than this says.

    Raises:
        ValueError: a length is not above 0, z or k not whole, alpha out of range.

    >>> print(f"{tooth_thickness_from_span(7.6604e-3, 0.001, 20, 3) * 1e3:.4f}")
    1.5708

    References:
        DIN 3960 / ISO 21771, from memory.
    """
    m, alpha = positive(module, "module, m"), pressure_angle(alpha)
    z = tooth_count(z, "z")
    pitch = np.pi * m * np.cos(alpha)
    on_base = positive(span, "span, m") - (whole(k, "teeth spanned") - 1) * pitch
    result: Array = m * z * (on_base / (m * z * np.cos(alpha)) - involute(alpha))
    return result


def profile_shift_from_span(
    span: Num, module: Num, z: Num, k: Num, alpha: Num = PRESSURE_ANGLE
) -> Array:
    """Profile shift that explains a span measurement of an unworn gear.

    x = (s / m - pi / 2) / (2 tan(alpha))

    Args:
        span: W, measured, m, any shape.
        module: m, m (metres), broadcast.
        z: teeth, whole, broadcast.
        k: teeth between the anvils, whole, broadcast.
        alpha: pressure angle, rad, broadcast.

    Returns:
        Shift in modules, broadcast shape.

    Raises:
        ValueError: a length is not above 0, z or k not whole, alpha out of range.

    >>> print(f"{profile_shift_from_span(7.7972e-3, 0.001, 20, 3):.3f}")
    0.200

    References:
        DIN 3960 / ISO 21771, from memory.
    """
    thickness = tooth_thickness_from_span(span, module, z, k, alpha)
    ratio = thickness / positive(module, "module, m")
    result: Array = (ratio - np.pi / 2) / (2 * np.tan(pressure_angle(alpha)))
    return result


def module_from_tip(tip_diameter: Num, z: Num, x: Num = 0.0, addendum: Num = 1.0) -> Array:
    """Module of a gear whose teeth were counted and whose tip diameter was measured.

    m = d_a / (z + 2 h + 2 x)

    Args:
        tip_diameter: d_a, m, any shape.
        z: teeth, whole, broadcast.
        x: profile shift in modules, broadcast.
        addendum: h, in modules, broadcast.

    Returns:
        Module, m, broadcast shape; compare with the nearest standard one.

    Raises:
        ValueError: d_a or h is not above 0 or z not whole.

    >>> print(f"{module_from_tip(0.084, 40) * 1e3:.3f}")
    2.000

    References:
        ISO 21771, from memory.
    """
    height = positive(addendum, "addendum, modules") + finite(x, "profile shift")
    return positive(tip_diameter, "tip diameter, m") / (tooth_count(z, "z") + 2 * height)
