"""Stay bolts and other screws: stress area, preload, tightening torque."""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import Array, Num, angle, not_negative, positive, require, share

NUT_FACTORS = {"dry": 0.20, "oiled": 0.15, "anti-seize": 0.12}
"""Nut factor K by the state of the thread (Shigley, table 8-15, from memory). K scatters by
about a quarter either way; a maker's torque goes before any figure from it."""


def tensile_stress_area(d: Num, pitch: Num) -> Array:
    """Stress area of a metric screw thread.

    A_s = (pi / 4) (d - 0.9382 P)^2

    Args:
        d: nominal diameter, m, any shape.
        pitch: P, m, broadcast.

    Returns:
        Area, m2, broadcast shape.

    Raises:
        ValueError: a value not above 0, or no core is left.

    >>> print(f"{tensile_stress_area(0.012, 0.00175) * 1e6:.1f}")
    84.3

    References:
        ISO 898-1 (nominal stress area), from memory.
    """
    core = positive(d, "thread diameter, m") - 0.9382 * positive(pitch, "thread pitch, m")
    require(np.asarray(core > 0), "thread pitch: leaves no core in this diameter; look again.")
    return np.pi / 4 * core**2


def preload(part_of_proof: Num, proof_stress: Num, area: Num) -> Array:
    """Preload as a part of the proof load.

    F = k S_p A_s

    Args:
        part_of_proof: k, any shape; 0.75 for reused screws, 0.9 for permanent ones.
        proof_stress: S_p, Pa, broadcast.
        area: A_s, m2, broadcast.

    Returns:
        Force, N, broadcast shape.

    Raises:
        ValueError: k not above 0 and at most 1, or another value not above 0.

    >>> print(f"{preload(0.75, 580e6, 84.3e-6) / 1e3:.1f}")
    36.7

    References:
        Shigley, Mechanical Engineering Design, eq. 8-31, from memory.
    """
    proof = positive(proof_stress, "proof stress, Pa") * positive(area, "stress area, m2")
    return share(part_of_proof, "part of proof") * proof


def tightening_torque(force: Num, d: Num, nut_factor: Num = 0.20) -> Array:
    """Tightening torque for a preload.

    T = K F d

    Args:
        force: F, preload, N, any shape.
        d: nominal diameter, m, broadcast.
        nut_factor: K, broadcast; `NUT_FACTORS` by state.

    Returns:
        Torque, N m, broadcast shape.

    Raises:
        ValueError: F below 0 or another value not above 0.

    >>> print(f"{tightening_torque(36.7e3, 0.012, NUT_FACTORS['oiled']):.1f}")
    66.1

    References:
        Shigley, Mechanical Engineering Design, eq. 8-27, from memory.
    """
    lever = positive(nut_factor, "nut factor K") * positive(d, "thread diameter, m")
    return not_negative(force, "preload, N") * lever


def preload_from_torque(torque: Num, d: Num, nut_factor: Num = 0.20) -> Array:
    """Preload that a torque gives.

    F = T / (K d)

    Args:
        torque: T, N m, any shape.
        d: nominal diameter, m, broadcast.
        nut_factor: K, broadcast; anti-seize at the torque for dry overstretches the screw.

    Returns:
        Force, N, broadcast shape.

    Raises:
        ValueError: T below 0 or another value not above 0.

    >>> print(f"{preload_from_torque(66.1, 0.012, NUT_FACTORS['anti-seize']) / 1e3:.1f}")
    45.9

    References:
        Shigley, Mechanical Engineering Design, eq. 8-27, from memory.
    """
    lever = positive(nut_factor, "nut factor K") * positive(d, "thread diameter, m")
    return not_negative(torque, "torque, N m") / lever


def nut_factor(
    d: Num,
    pitch: Num,
    mu_thread: Num,
    mu_face: Num,
    face_diameter: Num,
    half_angle: Num = np.pi / 6,
) -> Array:
    """Nut factor from thread size and friction.

    K = [P / (2 pi) + mu_t d_2 / (2 cos(alpha)) + mu_f D_f / 2] / d,  d_2 = d - 0.6495 P

    Args:
        d: nominal diameter, m, any shape.
        pitch: P, m, broadcast.
        mu_thread: mu_t, broadcast.
        mu_face: mu_f, under head or nut, broadcast.
        face_diameter: D_f, mean diameter of the face that turns, m, broadcast.
        half_angle: alpha, half of the thread angle, rad, broadcast.

    Returns:
        K, broadcast shape.

    Raises:
        ValueError: friction below 0, a size not above 0 or alpha out of range.

    >>> print(f"{nut_factor(0.012, 0.00175, 0.15, 0.15, 0.0155):.3f}")
    0.198

    References:
        VDI 2230-1 and ISO 16047 (tightening torque), from memory.
    """
    d, P = positive(d, "thread diameter, m"), positive(pitch, "thread pitch, m")
    require(np.asarray(d > P), "thread pitch: expected below the diameter; look again.")
    flank = np.cos(angle(half_angle, "half of the thread angle", -1e-9, 1.2))
    thread = not_negative(mu_thread, "thread friction") * (d - 0.6495 * P) / (2 * flank)
    face = not_negative(mu_face, "face friction") * positive(face_diameter, "face, m") / 2
    result: Array = (P / (2 * np.pi) + thread + face) / d
    return result
