"""Spur gears of the compound layshaft train: ratio and geometry of the mesh.

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
    return (tooth_count(z2, "z2") / tooth_count(z1, "z1")) * (
        tooth_count(z4, "z4") / tooth_count(z3, "z3")
    )


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
    require(
        np.asarray((target >= 0) & (target < 100)),
        "involute, rad: expected 0 to 100; degrees given, or the wrong quantity?",
    )
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
    alpha = pressure_angle(alpha)
    shift = finite(xa, "profile shift") + finite(xb, "profile shift")
    teeth = tooth_count(za, "za") + tooth_count(zb, "zb")
    target = involute(alpha) + 2 * shift * np.tan(alpha) / teeth
    require(
        np.asarray((target >= 0) & (target < 1)),
        "profile shifts: expected a sum with which these teeth can mesh (small against the "
        "number of teeth, in modules and not in mm); enter them again.",
    )
    return involute_inverse(target)


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
    m, alpha = positive(module, "module, m"), pressure_angle(alpha)
    plain = m * (tooth_count(za, "za") + tooth_count(zb, "zb")) / 2
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
    alpha, ha = pressure_angle(alpha), positive(addendum, "addendum, modules")
    za, zb = tooth_count(za, "za"), tooth_count(zb, "zb")
    working = working_pressure_angle(za, zb, xa, xb, alpha)
    base_a, base_b = za * np.cos(alpha) / 2, zb * np.cos(alpha) / 2
    tip_a = za / 2 + ha + finite(xa, "profile shift")
    tip_b = zb / 2 + ha + finite(xb, "profile shift")
    require(
        np.asarray((tip_a > base_a) & (tip_b > base_b)),
        "addendum and profile shift: expected a tip above the base circle; enter them again.",
    )
    path = np.sqrt(tip_a**2 - base_a**2) + np.sqrt(tip_b**2 - base_b**2)
    result: Array = (path - (base_a + base_b) * np.tan(working)) / (np.pi * np.cos(alpha))
    return result


def tooth_count(z: Num, name: str) -> Array:
    """Give a tooth number as float array, refusing what no gear can have.

    z whole and z >= 4

    Args:
        z: teeth, any shape.
        name: symbol of the gear, for the message.

    Returns:
        Whole numbers as floats, shape of z.

    Raises:
        ValueError: z is not a whole number from 4.

    >>> tooth_count(12, "z1")
    array(12.)

    References:
        none (a guard, no formula)
    """
    return whole(z, f"teeth {name}", 4)


def pressure_angle(alpha: Num) -> Array:
    """Give a pressure angle as float array, refusing what no gear can have.

    0 < alpha < 45 deg

    Args:
        alpha: angle, rad, any shape.

    Returns:
        Angle, rad, shape of alpha.

    Raises:
        ValueError: alpha is out of range (most often: degrees given).

    >>> print(f"{pressure_angle(PRESSURE_ANGLE):.4f}")
    0.3491

    References:
        none (a guard, no formula)
    """
    return angle(alpha, "pressure angle, rad", 0.0, np.pi / 4)
