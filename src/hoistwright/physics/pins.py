"""Pins (chain anchor pin, suspension pin, pawl pin) and threaded hook shanks."""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import Array, Num, not_negative, positive, whole


def shear_stress(force: Num, d: Num, planes: Num = 2) -> Array:
    """Mean shear stress of a round pin.

    tau = F / (n pi d^2 / 4)

    Args:
        force: F, N, any shape.
        d: diameter, m, broadcast.
        planes: n, 1 for single and 2 for double shear, broadcast.

    Returns:
        Stress, Pa, broadcast shape; the peak at the axis is 4/3 of it.

    Raises:
        ValueError: F below 0, d not above 0 or n not whole.

    >>> print(f"{shear_stress(17457, 0.0126) / 1e6:.1f}")
    70.0

    References:
        Hibbeler, Mechanics of Materials, sec. 1.5, from memory.
    """
    area = whole(planes, "shear planes") * np.pi * positive(d, "pin diameter, m") ** 2 / 4
    return not_negative(force, "force, N") / area


def shear_force(stress: Num, d: Num, planes: Num = 2) -> Array:
    """Force that a round pin carries at a mean shear stress.

    F = tau n pi d^2 / 4

    Args:
        stress: tau, Pa, any shape.
        d: diameter, m, broadcast.
        planes: n, 1 for single and 2 for double shear, broadcast.

    Returns:
        Force, N, broadcast shape.

    Raises:
        ValueError: tau below 0, d not above 0 or n not whole.

    >>> print(f"{shear_force(70e6, 0.0126):.0f}")
    17457

    References:
        Hibbeler, Mechanics of Materials, sec. 1.5, from memory.
    """
    area = whole(planes, "shear planes") * np.pi * positive(d, "pin diameter, m") ** 2 / 4
    return not_negative(stress, "shear stress, Pa") * area


def bending_stress(force: Num, d: Num, middle: Num, side: Num, gap: Num = 0.0) -> Array:
    """Bending stress of a pin through a middle eye and two side plates.

    sigma = 32 M / (pi d^3),  M = (F / 2) (t_s / 2 + g + t_m / 4)

    Args:
        force: F, N, any shape.
        d: diameter, m, broadcast.
        middle: t_m, thickness of the middle eye (link, hook eye), m, broadcast.
        side: t_s, thickness of one side plate, m, broadcast.
        gap: g, play between eye and plate on each side, m, broadcast.

    Returns:
        Stress at mid-length, Pa, broadcast shape, for even bearing along each part: on the
        safe side for short pins.

    Raises:
        ValueError: F or g below 0, or a size not above 0.

    >>> print(f"{bending_stress(10e3, 0.012, 0.008, 0.006, 0.0005) / 1e6:.0f}")
    162

    References:
        Shigley, Mechanical Engineering Design (clevis pins, simply supported), from memory.
    """
    arm = positive(side, "side plate, m") / 2 + positive(middle, "middle eye, m") / 4
    moment = not_negative(force, "force, N") / 2 * (arm + not_negative(gap, "gap, m"))
    return 32 * moment / (np.pi * positive(d, "pin diameter, m") ** 3)


def bearing_pressure(force: Num, d: Num, length: Num) -> Array:
    """Pressure on the projected area of a pin or bush.

    p = F / (d l)

    Args:
        force: F, N, any shape.
        d: diameter, m, broadcast.
        length: l, length that bears, m, broadcast.

    Returns:
        Pressure, Pa, broadcast shape.

    Raises:
        ValueError: F below 0 or a size not above 0.

    >>> print(f"{bearing_pressure(10e3, 0.012, 0.008) / 1e6:.1f}")
    104.2

    References:
        Shigley, Mechanical Engineering Design, ch. 12, from memory.
    """
    projected = positive(d, "diameter, m") * positive(length, "bearing length, m")
    return not_negative(force, "force, N") / projected


def rod_stress(force: Num, area: Num) -> Array:
    """Tensile stress of a hook shank or stud at its weakest section.

    sigma = F / A

    Args:
        force: F, N, any shape.
        area: A, m2: thread stress area (`bolts.tensile_stress_area`) or undercut, broadcast.

    Returns:
        Stress, Pa, broadcast shape, without the notch effect of the thread.

    Raises:
        ValueError: F below 0 or A not above 0.

    >>> print(f"{rod_stress(10e3, 84.3e-6) / 1e6:.1f}")
    118.6

    References:
        ISO 898-1 (stress area as the section that counts), from memory.
    """
    return not_negative(force, "force, N") / positive(area, "section, m2")


def thread_shear_stress(force: Num, minor: Num, engaged: Num, bearing_part: Num = 0.75) -> Array:
    """Mean shear stress at the root of the engaged thread of a shank or nut.

    tau = F / (pi d_3 l k)

    Args:
        force: F, N, any shape.
        minor: d_3, root diameter of the external thread, m, broadcast.
        engaged: l, length of thread in the nut, m, broadcast.
        bearing_part: k, part of that length which is metal at the root, broadcast; about
            0.75 for metric threads.

    Returns:
        Stress, Pa, broadcast shape; the first turn carries about 0.38 of the force.

    Raises:
        ValueError: F below 0 or another value not above 0.

    >>> print(f"{thread_shear_stress(10e3, 0.0098, 0.010) / 1e6:.1f}")
    43.3

    References:
        Shigley, Mechanical Engineering Design, sec. 8-2 (0.38 on the first turn), from memory.
    """
    root = np.pi * positive(minor, "root diameter, m") * positive(engaged, "engaged length, m")
    return not_negative(force, "force, N") / (root * positive(bearing_part, "bearing part"))
