"""Rolling bearings and bushes of drive shaft, load sheave and idle sheaves."""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import Array, Num, not_negative, positive

BALL, ROLLER = 3.0, 10.0 / 3.0
"""Life exponents of ball bearings and of roller and needle bearings (ISO 281)."""


def rating_life(rating: Num, load: Num, exponent: Num = BALL) -> Array:
    """Basic rating life: turns that nine of ten bearings outlast.

    L10 = 10^6 (C / P)^a

    Args:
        rating: C, dynamic load rating, N, any shape.
        load: P, equivalent load, N, broadcast.
        exponent: a, `BALL` or `ROLLER`, broadcast.

    Returns:
        Turns, broadcast shape.

    Raises:
        ValueError: a value not above 0.

    >>> print(f"{rating_life(5050, 2400) / 1e6:.3f}")
    9.316

    References:
        ISO 281 (basic rating life), from memory.
    """
    ratio = positive(rating, "load rating C, N") / positive(load, "bearing load P, N")
    result: Array = 1e6 * ratio ** positive(exponent, "life exponent")
    return result


def life_seconds(turns: Num, speed: Num) -> Array:
    """Running time in which a bearing makes its turns.

    t = 2 pi L / omega

    Args:
        turns: L, any shape.
        speed: omega, rad/s, broadcast.

    Returns:
        Time, s, broadcast shape.

    Raises:
        ValueError: a value not above 0.

    >>> print(f"{life_seconds(9.316e6, 1750 * 2 * np.pi / 60) / 3600:.1f}")
    88.7

    References:
        definition of speed.
    """
    return 2 * np.pi * positive(turns, "turns") / positive(speed, "speed, rad/s")


def rating_needed(load: Num, turns: Num, exponent: Num = BALL) -> Array:
    """Dynamic load rating that gives a life.

    C = P (L10 / 10^6)^(1/a)

    Args:
        load: P, equivalent load, N, any shape.
        turns: L10, turns, broadcast.
        exponent: a, `BALL` or `ROLLER`, broadcast.

    Returns:
        Rating, N, broadcast shape.

    Raises:
        ValueError: a value not above 0.

    >>> print(f"{rating_needed(2400, 21e6):.1f}")
    6621.4

    References:
        ISO 281 (basic rating life), from memory.
    """
    stretch = (positive(turns, "turns") / 1e6) ** (1 / positive(exponent, "life exponent"))
    result: Array = positive(load, "bearing load P, N") * stretch
    return result


def static_safety(rating: Num, load: Num) -> Array:
    """Static safety of a bearing that turns slowly, as all in a hand hoist do.

    s_0 = C_0 / P_0

    Args:
        rating: C_0, static load rating, N, any shape.
        load: P_0, greatest load, N, broadcast.

    Returns:
        Plain number, broadcast shape.

    Raises:
        ValueError: a value not above 0.

    >>> print(static_safety(12e3, 8e3))
    1.5

    References:
        ISO 76 (static load ratings), from memory.
    """
    return positive(rating, "static rating C0, N") / positive(load, "bearing load P0, N")


def friction_torque(load: Num, d: Num, mu: Num) -> Array:
    """Friction torque of a bearing or bush.

    M = mu P d / 2

    Args:
        load: P, N, any shape.
        d: diameter where it slides, or bore of a rolling bearing, m, broadcast.
        mu: friction, broadcast; about 0.0025 for needle rollers, 0.1 for a greased bush.

    Returns:
        Torque, N m, broadcast shape.

    Raises:
        ValueError: P or mu below 0 or d not above 0.

    >>> print(friction_torque(8000, 0.025, 0.1))
    10.0

    References:
        makers' estimating formula, general knowledge; from memory.
    """
    pressed = not_negative(mu, "bearing friction") * not_negative(load, "bearing load, N")
    return pressed * positive(d, "bearing diameter, m") / 2
