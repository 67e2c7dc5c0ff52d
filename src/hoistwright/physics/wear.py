"""Sliding wear after Archard, and how far a chain joint slides.

Two conventions are met: V = K F s / (3 H) with the divisor 3, and V = k F s / H without.
The coefficient of the second is a third of the first. Ours is the first; pass divisor = 1
for the other.
"""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import Array, Num, not_negative, positive, whole


def archard_volume(K: Num, force: Num, distance: Num, hardness: Num, divisor: Num = 3.0) -> Array:
    """Volume worn off by sliding.

    V = K F s / (3 H)

    Args:
        K: wear coefficient, any shape.
        force: F, N, broadcast.
        distance: s, slid, m, broadcast.
        hardness: H of the softer part, Pa, broadcast.
        divisor: 3, or 1 for the other convention.

    Returns:
        Volume, m3, broadcast shape.

    Raises:
        ValueError: K, F or s below 0, or H or the divisor not above 0.

    >>> print(f"{archard_volume(7e-3, 1.0, 1.0, 120 * 9.80665e6) * 1e9:.3e}")
    1.983e-03

    References:
        Archard 1953; wear coefficient tables for the divisor 3.
    """
    work = not_negative(force, "force, N") * not_negative(distance, "sliding distance, m")
    soft = positive(divisor, "divisor") * positive(hardness, "hardness, Pa")
    return not_negative(K, "wear coefficient") * work / soft


def wear_depth(volume: Num, area: Num) -> Array:
    """Depth of wear spread evenly over an area.

    w = V / A

    Args:
        volume: V, m3, any shape.
        area: A, worn area, m2, broadcast.

    Returns:
        Depth, m, broadcast shape.

    Raises:
        ValueError: V below 0 or A not above 0.

    >>> print(f"{wear_depth(2e-9, 2e-5) * 1e3:.1f}")
    0.1

    References:
        geometry.
    """
    return not_negative(volume, "worn volume, m3") / positive(area, "worn area, m2")


def joint_sliding(d: Num, pockets: Num) -> Array:
    """Way that a chain joint slides each time it runs on to or off a pocket wheel.

    s = (d / 2) (pi / N), the mean of lying and standing links

    Args:
        d: wire diameter, m, any shape.
        pockets: N of the wheel, whole, from 3, broadcast.

    Returns:
        Distance, m, broadcast shape.

    Raises:
        ValueError: d not above 0 or N not a whole number from 3.

    >>> print(f"{joint_sliding(0.005, 5) * 1e3:.3f}")
    1.571

    References:
        geometry: a turn of the wheel bends 2 N joints through one turn in all; own derivation.
    """
    return positive(d, "wire diameter d, m") * np.pi / (2 * whole(pockets, "pockets", 3))
