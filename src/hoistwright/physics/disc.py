"""Ring-shaped friction faces: effective radius, torque, pressure."""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import Array, Num, not_negative, positive, require, whole


def radius_uniform_wear(outer: Num, inner: Num) -> Array:
    """Effective radius of a face that has run in (pressure times radius even).

    R = (R_o + R_i) / 2

    Args:
        outer: outer radius, m, any shape.
        inner: inner radius, m, broadcast; below outer.

    Returns:
        Radius, m, broadcast shape.

    Raises:
        ValueError: a radius not above 0 or inner not below outer.

    >>> print(f"{radius_uniform_wear(0.040, 0.025) * 1e3:.2f}")
    32.50

    References:
        Shigley, Mechanical Engineering Design, sec. 16-5; Khurmi, Theory of Machines, ch. 10.
    """
    outer, inner = _ring(outer, inner)
    return (outer + inner) / 2


def radius_uniform_pressure(outer: Num, inner: Num) -> Array:
    """Effective radius of a new face (pressure even).

    R = (2/3) (R_o^3 - R_i^3) / (R_o^2 - R_i^2)

    Args:
        outer: outer radius, m, any shape.
        inner: inner radius, m, broadcast; below outer.

    Returns:
        Radius, m, broadcast shape; never below that of a run-in face.

    Raises:
        ValueError: a radius not above 0 or inner not below outer.

    >>> print(f"{radius_uniform_pressure(0.040, 0.025) * 1e3:.2f}")
    33.08

    References:
        Shigley, Mechanical Engineering Design, sec. 16-5; Khurmi, Theory of Machines, ch. 10.
    """
    outer, inner = _ring(outer, inner)
    # the difference of the squares is divided out, so that a thin ring loses no digits
    return 2 / 3 * (outer**2 + outer * inner + inner**2) / (outer + inner)


def disc_torque(axial: Num, mu: Num, radius: Num, faces: Num = 1) -> Array:
    """Friction torque that a stack of faces can hold.

    T = n mu F R

    Args:
        axial: F, axial force, N, any shape.
        mu: friction coefficient, broadcast.
        radius: R, effective radius, m, broadcast.
        faces: n, pairs of faces that slide at once, whole, broadcast.

    Returns:
        Torque, N m, broadcast shape.

    Raises:
        ValueError: a value below 0, R not above 0, or n not whole.

    >>> print(f"{disc_torque(3141.593, 0.3, 0.125, 2):.3f}")
    235.619

    References:
        Khurmi, Theory of Machines, ch. 10 (plate clutches).
    """
    pressed = not_negative(axial, "axial force, N") * not_negative(mu, "friction")
    return whole(faces, "faces") * pressed * positive(radius, "effective radius, m")


def mean_pressure(axial: Num, outer: Num, inner: Num) -> Array:
    """Mean pressure on a ring face.

    p = F / [pi (R_o^2 - R_i^2)]

    Args:
        axial: F, axial force, N, any shape.
        outer: outer radius, m, broadcast.
        inner: inner radius, m, broadcast; below outer.

    Returns:
        Pressure, Pa, broadcast shape.

    Raises:
        ValueError: F below 0, a radius not above 0 or inner not below outer.

    >>> print(f"{mean_pressure(4000, 0.1, 0.05) / 1e6:.5f}")
    0.16977

    References:
        Khurmi, Theory of Machines, ch. 10.
    """
    outer, inner = _ring(outer, inner)
    return not_negative(axial, "axial force, N") / (np.pi * (outer - inner) * (outer + inner))


def peak_pressure(axial: Num, outer: Num, inner: Num) -> Array:
    """Greatest pressure on a run-in ring face, at its inner edge.

    p_max = F / [2 pi R_i (R_o - R_i)]

    Args:
        axial: F, axial force, N, any shape.
        outer: outer radius, m, broadcast.
        inner: inner radius, m, broadcast; below outer.

    Returns:
        Pressure, Pa, broadcast shape.

    Raises:
        ValueError: F below 0, a radius not above 0 or inner not below outer.

    >>> print(f"{peak_pressure(4000, 0.1, 0.05) / 1e6:.5f}")
    0.25465

    References:
        Khurmi, Theory of Machines, ch. 10; Shigley, eq. 16-23, from memory.
    """
    outer, inner = _ring(outer, inner)
    return not_negative(axial, "axial force, N") / (2 * np.pi * inner * (outer - inner))


def force_at_peak_pressure(pressure: Num, outer: Num, inner: Num) -> Array:
    """Axial force at which a run-in ring face reaches a pressure at its inner edge.

    F = 2 pi p_max R_i (R_o - R_i)

    Args:
        pressure: p_max, Pa, any shape.
        outer: outer radius, m, broadcast.
        inner: inner radius, m, broadcast; below outer.

    Returns:
        Force, N, broadcast shape.

    Raises:
        ValueError: p below 0, a radius not above 0 or inner not below outer.

    >>> print(f"{force_at_peak_pressure(1e5, 0.15, 0.10):.3f}")
    3141.593

    References:
        Khurmi, Theory of Machines, ch. 10; Shigley, eq. 16-23, from memory.
    """
    outer, inner = _ring(outer, inner)
    return not_negative(pressure, "pressure, Pa") * 2 * np.pi * inner * (outer - inner)


def _ring(outer: Num, inner: Num) -> tuple[Array, Array]:
    outer, inner = positive(outer, "outer radius, m"), positive(inner, "inner radius, m")
    require(np.asarray(inner < outer), "inner radius is not below the outer one; measure again.")
    return outer, inner
