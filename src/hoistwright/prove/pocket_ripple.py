"""The ripple that a sound pocket wheel itself gives to the pull."""

from __future__ import annotations

import functools

import numpy as np
from numpy.typing import NDArray

from hoistwright.physics import pocket_wheel

Floats = NDArray[np.float64]


def arm(turns: Floats, pockets: int, pitch: float, wire: float) -> Floats:
    """Lever arm of the hanging chain as the pocket wheel turns.

    a = (D / 2) cos(beta), beta the angle of the joint that the chain hangs from, seen from the
    horizontal; it hands over to the next joint when the chord between both hangs plumb, at
    sin(beta) = (p + d) / D and (p - d) / D in turn

    Args:
        turns: angle of the wheel, turns, any shape.
        pockets: N.
        pitch: p, m.
        wire: d, m.

    Returns:
        Arm, m, shape of turns.

    >>> around = arm(np.linspace(0, 1, 100_000, endpoint=False), 4, 0.024, 0.008)
    >>> print(f"{around.mean() * 2 * np.pi:.4f}")  # chain in one turn: 2 N p
    0.1920

    References:
        geometry; Machinery's Handbook for the polygon of a pocket wheel, from memory.
    """
    radius = float(pocket_wheel.pitch_diameter(pockets, pitch, wire)) / 2
    long, short = (float(np.arcsin(chord / 2 / radius)) for chord in (pitch + wire, pitch - wire))
    place = np.asarray(turns, dtype=np.float64) % (1 / pockets) * 2 * np.pi
    within = np.where(place < long + short, place - long, place - long - 2 * short)
    return np.asarray(radius * np.cos(within), dtype=np.float64)


@functools.lru_cache(maxsize=64)
def pocket_ripple(pockets: int, pitch: float, wire: float) -> float:
    """Amplitude of the pull at once per pocket, over its mean, for a sound wheel.

    |2/T integral of a(t) exp(-2 pi i N t)| / mean a

    Args:
        pockets: N.
        pitch: p, m.
        wire: d, m.

    Returns:
        Plain number; about 0.04 for four pockets.

    >>> print(f"{pocket_ripple(4, 0.024, 0.008):.3f}")
    0.044

    References:
        Fourier series of the polygon's arm (own derivation).
    """
    turns = np.arange(4096) / 4096 / pockets
    around = arm(turns, pockets, pitch, wire)
    wave = 2 * np.mean(around * np.exp(-2j * np.pi * pockets * turns))
    return float(abs(wave) / around.mean())
