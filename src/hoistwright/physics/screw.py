"""Screw threads that clamp: lead angle, friction angle, torque to tighten and to loosen."""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import Array, Num, angle, finite, not_negative, positive, require


def lead_angle(lead: Num, mean_radius: Num) -> Array:
    """Lead angle of a thread at its mean radius.

    tan(lambda) = l / (2 pi r)

    Args:
        lead: l, advance in one turn (starts times pitch), m, any shape.
        mean_radius: r, m, broadcast.

    Returns:
        Angle, rad, broadcast shape.

    Raises:
        ValueError: a value is not above 0.

    >>> print(f"{np.rad2deg(lead_angle(0.008, 0.015)):.3f}")
    4.852

    References:
        Shigley, Mechanical Engineering Design, sec. 8-2, from memory.
    """
    round_once = 2 * np.pi * positive(mean_radius, "mean thread radius, m")
    result: Array = np.arctan(positive(lead, "lead, m") / round_once)
    return result


def thread_friction_angle(mu: Num, half_angle: Num = 0.0) -> Array:
    """Friction angle of a thread with inclined flanks.

    tan(phi) = mu / cos(alpha)

    Args:
        mu: friction coefficient of the flanks, any shape.
        half_angle: alpha, half of the thread angle, rad: 0 square, 15 deg trapezoidal,
            30 deg metric, broadcast.

    Returns:
        Angle, rad, broadcast shape. The small lead angle is left out of the flank angle.

    Raises:
        ValueError: mu below 0 or the half angle out of range.

    >>> print(f"{np.rad2deg(thread_friction_angle(0.12, np.deg2rad(15))):.3f}")
    7.082

    References:
        Shigley, Mechanical Engineering Design, sec. 8-2 (Acme thread), from memory.
    """
    slope = not_negative(mu, "thread friction") / np.cos(angle(half_angle, "flank", -1e-9, 1.0))
    result: Array = np.arctan(slope)
    return result


def tighten_torque(axial: Num, mean_radius: Num, lead: Num, friction: Num) -> Array:
    """Torque in the thread while it tightens against an axial force.

    T = F r tan(lambda + phi)

    Args:
        axial: F, axial force, N, any shape.
        mean_radius: r, m, broadcast.
        lead: lambda, lead angle, rad, broadcast.
        friction: phi, friction angle, rad, broadcast.

    Returns:
        Torque, N m, broadcast shape.

    Raises:
        ValueError: a value out of range or lambda + phi at 90 deg or more.

    >>> lam, phi = lead_angle(0.008, 0.015), thread_friction_angle(0.08)
    >>> print(f"{tighten_torque(6400, 0.015, lam, phi):.3f}")
    15.937

    References:
        Shigley, Mechanical Engineering Design, eq. 8-1, from memory.
    """
    load = not_negative(axial, "axial force, N") * positive(mean_radius, "mean thread radius, m")
    return load * tan_sum(lead, friction)


def loosen_torque(axial: Num, mean_radius: Num, lead: Num, friction: Num) -> Array:
    """Torque that must turn the thread to loosen it under an axial force.

    T = F r tan(phi - lambda)

    Args:
        axial: F, axial force, N, any shape.
        mean_radius: r, m, broadcast.
        lead: lambda, lead angle, rad, broadcast.
        friction: phi, friction angle, rad, broadcast.

    Returns:
        Torque, N m, broadcast shape; below 0 when the thread runs back by itself.

    Raises:
        ValueError: a value out of range.

    >>> lam, phi = lead_angle(0.008, 0.015), thread_friction_angle(0.08)
    >>> print(f"{loosen_torque(6400, 0.015, lam, phi):.4f}")
    -0.4656

    References:
        Shigley, Mechanical Engineering Design, eq. 8-2, from memory.
    """
    load = not_negative(axial, "axial force, N") * positive(mean_radius, "mean thread radius, m")
    lead = angle(lead, "lead angle", 0.0, np.pi / 2)
    result: Array = load * np.tan(angle(friction, "friction angle", -1e-9, np.pi / 2) - lead)
    return result


def collar_torque(axial: Num, mu: Num, collar_radius: Num) -> Array:
    """Torque of a thrust collar or nut face.

    T = mu F R

    Args:
        axial: F, axial force, N, any shape.
        mu: friction coefficient of the collar, broadcast.
        collar_radius: R, mean radius of the collar, m, broadcast.

    Returns:
        Torque, N m, broadcast shape.

    Raises:
        ValueError: F or mu below 0 or R not above 0.

    >>> print(f"{collar_torque(6400, 0.08, 0.020):.2f}")
    10.24

    References:
        Shigley, Mechanical Engineering Design, eq. 8-6, from memory.
    """
    pressed = not_negative(axial, "axial force, N") * not_negative(mu, "collar friction")
    return pressed * positive(collar_radius, "collar radius, m")


def screw_efficiency(lead: Num, friction: Num) -> Array:
    """Work that a tightening thread passes on.

    eta = tan(lambda) / tan(lambda + phi)

    Args:
        lead: lambda, lead angle, rad, any shape.
        friction: phi, friction angle, rad, broadcast.

    Returns:
        Efficiency, broadcast shape, without the collar.

    Raises:
        ValueError: an angle out of range.

    >>> print(f"{screw_efficiency(0.08, 0.12):.3f}")
    0.395

    References:
        Shigley, Mechanical Engineering Design, sec. 8-2, from memory.
    """
    result: Array = np.tan(angle(lead, "lead angle", 0.0, np.pi / 2)) / tan_sum(lead, friction)
    return result


def tan_sum(lead: Num, friction: Num) -> Array:
    """Slope of a thread with its friction.

    tan(lambda + phi)

    Args:
        lead: lambda, lead angle, rad, any shape.
        friction: phi, friction angle, rad, broadcast.

    Returns:
        Plain number, broadcast shape.

    Raises:
        ValueError: an angle out of range, or lambda + phi at 90 deg or more.

    >>> print(f"{tan_sum(0.08, 0.12):.4f}")
    0.2027

    References:
        Shigley, Mechanical Engineering Design, sec. 8-2, from memory.
    """
    both = angle(lead, "lead angle", 0.0, np.pi / 2) + finite(friction, "friction angle, rad")
    require(
        np.asarray((both > 0) & (both < np.pi / 2)),
        "lead and friction angle together: expected above 0 and below a right angle.",
    )
    result: Array = np.tan(both)
    return result
