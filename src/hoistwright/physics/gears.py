"""Spur gears of the compound layshaft train: ratio, geometry, measurement over teeth.

z1 is the pinion on the drive shaft, z2 the large gear of a layshaft, z3 its small gear,
z4 the load gear. Pinion and load gear turn about one axis.
"""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import Array, Num, angle, finite, positive, require, whole

PRESSURE_ANGLE = np.deg2rad(20.0)
"""Standard pressure angle, rad (ISO 53 basic rack)."""


def train_ratio(z1: Num, z2: Num, z3: Num, z4: Num) -> Array:
    """Turns of the pinion for one turn of the load gear.

    i = (z2 / z1) (z4 / z3)

    Args:
        z1: teeth of the pinion, whole, any shape.
        z2: teeth of the large layshaft gear, whole, broadcast.
        z3: teeth of the small layshaft gear, whole, broadcast.
        z4: teeth of the load gear, whole, broadcast.

    Returns:
        Ratio, broadcast shape.

    Raises:
        ValueError: a tooth number is not a whole number from 4.

    >>> print(train_ratio(12, 40, 12, 36))
    10.0

    References:
        Khurmi, Theory of Machines, ch. 13 (compound trains).
    """
    return (_teeth(z2, "z2") / _teeth(z1, "z1")) * (_teeth(z4, "z4") / _teeth(z3, "z3"))


def involute(alpha: Num) -> Array:
    """Involute function.

    inv(alpha) = tan(alpha) - alpha

    Args:
        alpha: angle, rad, from 0 to below 90 deg, any shape.

    Returns:
        Angle, rad, shape of alpha.

    Raises:
        ValueError: alpha is outside its range.

    >>> print(f"{involute(PRESSURE_ANGLE):.6f}")
    0.014904

    References:
        ISO 21771 (geometry of involute gears), from memory.
    """
    alpha = angle(alpha, "angle, rad", -1e-12, np.pi / 2)
    result: Array = np.tan(alpha) - alpha
    return result


def involute_inverse(value: Num) -> Array:
    """Angle whose involute function is given.

    alpha with tan(alpha) - alpha = value, by Newton's method from a cube-root start

    Args:
        value: involute, rad, from 0, any shape.

    Returns:
        Angle, rad, same shape.

    Raises:
        ValueError: value is below 0 or not finite.

    >>> print(f"{np.rad2deg(involute_inverse(0.0149043838673)):.6f}")
    20.000000

    References:
        ISO 21771; the start is the first term of the series, tan(a) - a = a^3 / 3.
    """
    target = finite(value, "involute, rad")
    require(np.asarray(target >= 0), "involute, rad: below 0; expected 0 or above.")
    # in t = tan(alpha): f(t) = t - atan(t), convex, f' = t^2 / (1 + t^2)
    t = np.cbrt(3 * target) + target
    for _ in range(12):
        slope = np.where(t > 0, t**2 / (1 + t**2), 1.0)
        t = t - (t - np.arctan(t) - target) / slope
    result: Array = np.arctan(t)
    return result


def working_pressure_angle(
    za: Num, zb: Num, xa: Num = 0.0, xb: Num = 0.0, alpha: Num = PRESSURE_ANGLE
) -> Array:
    """Pressure angle at which two gears run without backlash.

    inv(alpha_w) = inv(alpha) + 2 (xa + xb) tan(alpha) / (za + zb)

    Args:
        za: teeth of the one gear, whole, any shape.
        zb: teeth of the other, whole, broadcast.
        xa: profile shift of the one, in modules, broadcast.
        xb: profile shift of the other, in modules, broadcast.
        alpha: pressure angle of the rack, rad, broadcast.

    Returns:
        Angle, rad, broadcast shape.

    Raises:
        ValueError: a tooth number is not whole, or the shifts leave no meshing angle.

    >>> print(f"{np.rad2deg(working_pressure_angle(12, 40)):.3f}")
    20.000

    References:
        ISO 21771; DIN 3960, from memory.
    """
    alpha = _pressure(alpha)
    shift = finite(xa, "profile shift") + finite(xb, "profile shift")
    teeth = _teeth(za, "za") + _teeth(zb, "zb")
    return involute_inverse(involute(alpha) + 2 * shift * np.tan(alpha) / teeth)


def centre_distance(
    module: Num, za: Num, zb: Num, xa: Num = 0.0, xb: Num = 0.0, alpha: Num = PRESSURE_ANGLE
) -> Array:
    """Centre distance of two gears in close mesh.

    a = m (za + zb) / 2  cos(alpha) / cos(alpha_w)

    Args:
        module: m, m (metres), any shape.
        za: teeth of the one gear, whole, broadcast.
        zb: teeth of the other, whole, broadcast.
        xa: profile shift of the one, in modules, broadcast.
        xb: profile shift of the other, in modules, broadcast.
        alpha: pressure angle of the rack, rad, broadcast.

    Returns:
        Distance, m, broadcast shape.

    Raises:
        ValueError: module not above 0, a tooth number not whole, or no meshing angle.

    >>> print(f"{centre_distance(0.002, 12, 40) * 1e3:.1f}")
    52.0

    References:
        ISO 21771; DIN 3960, from memory.
    """
    m, alpha = positive(module, "module, m"), _pressure(alpha)
    plain = m * (_teeth(za, "za") + _teeth(zb, "zb")) / 2
    return plain * np.cos(alpha) / np.cos(working_pressure_angle(za, zb, xa, xb, alpha))


def coaxial_gap(m1: Num, z1: Num, z2: Num, m2: Num, z3: Num, z4: Num) -> Array:
    """Difference of the two centre distances of a layshaft; 0 when pinion and load gear align.

    m1 (z1 + z2) / 2 - m2 (z3 + z4) / 2

    Args:
        m1: module of pinion and large layshaft gear, m (metres), any shape.
        z1: teeth of the pinion, whole, broadcast.
        z2: teeth of the large layshaft gear, whole, broadcast.
        m2: module of small layshaft gear and load gear, m (metres), broadcast.
        z3: teeth of the small layshaft gear, whole, broadcast.
        z4: teeth of the load gear, whole, broadcast.

    Returns:
        Difference, m, broadcast shape. Profile shift can take up a part of a module.

    Raises:
        ValueError: a module is not above 0 or a tooth number not whole.

    >>> print(f"{coaxial_gap(0.002, 12, 40, 0.002, 13, 39) * 1e3:.3f}")
    0.000

    References:
        geometry; Khurmi, Theory of Machines, ch. 13 (reverted trains).
    """
    return centre_distance(m1, z1, z2) - centre_distance(m2, z3, z4)


def contact_ratio(
    za: Num,
    zb: Num,
    xa: Num = 0.0,
    xb: Num = 0.0,
    alpha: Num = PRESSURE_ANGLE,
    addendum: Num = 1.0,
) -> Array:
    """Mean number of tooth pairs in contact of an external mesh.

    eps = [sqrt(ra^2 - rba^2) + sqrt(rb^2 - rbb^2) - a sin(alpha_w)] / (pi m cos(alpha))

    Args:
        za: teeth of the one gear, whole, any shape.
        zb: teeth of the other, whole, broadcast.
        xa: profile shift of the one, in modules, broadcast.
        xb: profile shift of the other, in modules, broadcast.
        alpha: pressure angle of the rack, rad, broadcast.
        addendum: height of the tooth above the reference circle, in modules, broadcast.

    Returns:
        Ratio, broadcast shape. Undercut and tip shortening are left out.

    Raises:
        ValueError: a tooth number is not whole or an angle or height out of range.

    >>> print(f"{contact_ratio(20, 40):.3f}")
    1.635

    References:
        ISO 21771; Shigley, Mechanical Engineering Design, ch. 13, from memory.
    """
    alpha, ha = _pressure(alpha), positive(addendum, "addendum, modules")
    za, zb = _teeth(za, "za"), _teeth(zb, "zb")
    working = working_pressure_angle(za, zb, xa, xb, alpha)
    base_a, base_b = za * np.cos(alpha) / 2, zb * np.cos(alpha) / 2
    tip_a = za / 2 + ha + finite(xa, "profile shift")
    tip_b = zb / 2 + ha + finite(xb, "profile shift")
    path = np.sqrt(tip_a**2 - base_a**2) + np.sqrt(tip_b**2 - base_b**2)
    result: Array = (path - (base_a + base_b) * np.tan(working)) / (np.pi * np.cos(alpha))
    return result


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
    result: Array = np.maximum(np.round(_teeth(z, "z") * _pressure(alpha) / np.pi + 0.5), 2)
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
    m, alpha = positive(module, "module, m"), _pressure(alpha)
    turns = (whole(k, "teeth spanned") - 0.5) * np.pi + _teeth(z, "z") * involute(alpha)
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
    m, alpha = positive(module, "module, m"), _pressure(alpha)
    z = _teeth(z, "z")
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
    result: Array = (ratio - np.pi / 2) / (2 * np.tan(_pressure(alpha)))
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
    return positive(tip_diameter, "tip diameter, m") / (_teeth(z, "z") + 2 * height)


def _teeth(z: Num, name: str) -> Array:
    return whole(z, f"teeth {name}", 4)


def _pressure(alpha: Num) -> Array:
    return angle(alpha, "pressure angle", 0.0, np.pi / 4)
