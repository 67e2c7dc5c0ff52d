"""Form factor of a spur tooth from its own shape, for few teeth and for profile shift.

The pinions of hand hoists have 5 to 12 teeth and are often shifted, where the tables of
Lewis end. Here the tooth is taken as a rack with rounded tip makes it; the root section is
where 30 deg tangents touch the fillet, and the whole force acts at the tip.
"""

from __future__ import annotations

import numpy as np

from hoistwright.physics.gears import PRESSURE_ANGLE, involute, pressure_angle, tooth_count
from hoistwright.physics.guard import Array, Num, finite, not_negative, positive, require


def form_factor_from_shape(
    z: Num,
    x: Num = 0.0,
    alpha: Num = PRESSURE_ANGLE,
    addendum: Num = 1.0,
    dedendum: Num = 1.25,
    fillet: Num = 0.38,
) -> Array:
    """Form factor Y of Lewis's equation, from the shape of the tooth.

    Y = (s / m)^2 cos(alpha) / [6 (h / m) cos(alpha_F)], with s the root section, h the arm of
    the tip force over it and alpha_F its angle; Y = 1 / Y_Fa of ISO 6336-3

    Args:
        z: teeth, whole, at least 4, any shape.
        x: profile shift in modules, broadcast.
        alpha: pressure angle of the rack, rad, broadcast.
        addendum: height of the tooth above the reference circle, modules, broadcast.
        dedendum: depth of the rack's tip, modules, broadcast.
        fillet: radius of the rack's tip, modules, broadcast.

    Returns:
        Factor, broadcast shape; use it in `gear_strength.lewis_stress`. Tip shortening is
        left out. Above Lewis's own table (root section by a parabola) by a fifth at 12
        teeth, a tenth at 20, a fiftieth at 100.

    Raises:
        ValueError: a value out of range, or the shape has no tip or no root section.

    >>> print(f"{form_factor_from_shape(8, 0.5):.3f}")
    0.393

    References:
        ISO 6336-3, method for load at the tip (formulas from memory; proved in the tests by
        rolling the rack point by point); ISO 53 for the rack.
    """
    z, alpha = tooth_count(z, "z"), pressure_angle(alpha)
    x, rho = finite(x, "profile shift"), not_negative(fillet, "fillet radius, modules")
    depth = positive(dedendum, "dedendum, modules")
    section, depth_at = _root_section(z, x, alpha, depth, rho)
    tip = z + 2 * positive(addendum, "addendum, modules") + 2 * x
    base = z * np.cos(alpha)
    require(np.asarray(tip > base), "profile shift: the tip lies below the base circle.")
    at_tip = np.arccos(base / tip)
    half = (np.pi / 2 + 2 * x * np.tan(alpha)) / z + involute(alpha) - involute(at_tip)
    require(np.asarray(half > 0), "profile shift: the tooth is pointed below its tip circle.")
    force_angle = at_tip - half
    # the force's line crosses the middle line of the tooth at this radius (in modules)
    crossing = base / (2 * np.cos(force_angle))
    arm = crossing - depth_at
    result: Array = section**2 * np.cos(alpha) / (6 * arm * np.cos(force_angle))
    return result


def _root_section(
    z: Array, x: Array, alpha: Array, depth: Array, rho: Array
) -> tuple[Array, Array]:
    """Chord of the root section and its distance from the axis, in modules."""
    edge = np.pi / 4 - depth * np.tan(alpha) - (1 - np.sin(alpha)) * rho / np.cos(alpha)
    require(np.asarray(edge >= 0), "fillet radius: larger than the rack's tip can hold.")
    G = rho - depth + x
    H = 2 / z * (np.pi / 2 - edge) - np.pi / 3
    theta = np.full(np.broadcast(G, H).shape, np.pi / 6)
    for _ in range(40):
        slope = 1 - 2 * G / z / np.cos(theta) ** 2
        theta = np.clip(theta - (theta - 2 * G / z * np.tan(theta) + H) / slope, -1.4, 1.4)
    left = np.abs(theta - 2 * G / z * np.tan(theta) + H)
    require(np.asarray(left < 1e-9), "profile shift: no root section; is it in modules?")
    reach = G / np.cos(theta) - rho
    section = z * np.sin(np.pi / 3 - theta) + np.sqrt(3) * reach
    depth_at = (z * np.cos(np.pi / 3 - theta) + reach) / 2
    return section, depth_at
