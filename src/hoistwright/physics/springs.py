"""Pawl springs, latch springs, brake and limiter springs of round wire."""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import Array, Num, finite, not_negative, positive, require


def helical_rate(wire: Num, coil: Num, turns: Num, shear_modulus: Num = 79.3e9) -> Array:
    """Rate of a helical compression or extension spring.

    k = G d^4 / (8 D^3 n)

    Args:
        wire: d, wire diameter, m, any shape.
        coil: D, mean coil diameter, m, broadcast; above d.
        turns: n, active turns, broadcast.
        shear_modulus: G, Pa, broadcast.

    Returns:
        Rate, N/m, broadcast shape.

    Raises:
        ValueError: a value not above 0, or D not above d.

    >>> print(f"{helical_rate(0.001, 0.008, 10):.0f}")
    1936

    References:
        Shigley, Mechanical Engineering Design, eq. 10-9, from memory.
    """
    d, D = _coil(wire, coil)
    stiff = positive(shear_modulus, "shear modulus G, Pa") * d**4
    return stiff / (8 * D**3 * positive(turns, "active turns"))


def helical_stress(force: Num, wire: Num, coil: Num) -> Array:
    """Shear stress at the inside of a helical spring, curvature included.

    tau = K 8 F D / (pi d^3),  K = (4 C - 1) / (4 C - 4) + 0.615 / C,  C = D / d

    Args:
        force: F, N, any shape.
        wire: d, wire diameter, m, broadcast.
        coil: D, mean coil diameter, m, broadcast; above d.

    Returns:
        Stress, Pa, broadcast shape.

    Raises:
        ValueError: F below 0, a size not above 0, or D not above d.

    >>> print(f"{helical_stress(10, 0.001, 0.008) / 1e6:.0f}")
    241

    References:
        Wahl; Shigley, Mechanical Engineering Design, sec. 10-2, from memory.
    """
    d, D = _coil(wire, coil)
    C = D / d
    wahl = (4 * C - 1) / (4 * C - 4) + 0.615 / C
    return wahl * 8 * not_negative(force, "force, N") * D / (np.pi * d**3)


def torsion_rate(wire: Num, coil: Num, turns: Num, modulus: Num = 206e9) -> Array:
    """Rate of a torsion spring for each radian.

    k = E d^4 / (64 D n)

    Args:
        wire: d, wire diameter, m, any shape.
        coil: D, mean coil diameter, m, broadcast; above d.
        turns: n, active turns, the legs' share included, broadcast.
        modulus: E, Pa, broadcast.

    Returns:
        Rate, N m/rad, broadcast shape.

    Raises:
        ValueError: a value not above 0, or D not above d.

    >>> print(f"{torsion_rate(0.001, 0.008, 5) * 1e3:.1f}")
    80.5

    References:
        Shigley, Mechanical Engineering Design, sec. 10-12, from memory; friction on the pin
        left out (it makes 10.2 into 10.8 there).
    """
    d, D = _coil(wire, coil)
    stiff = positive(modulus, "modulus E, Pa") * d**4
    return stiff / (64 * D * positive(turns, "active turns"))


def torsion_torque(rate: Num, deflection: Num) -> Array:
    """Torque of a torsion spring wound by an angle from its free state.

    T = k theta

    Args:
        rate: k, N m/rad, any shape.
        deflection: theta, rad, broadcast.

    Returns:
        Torque, N m, broadcast shape.

    Raises:
        ValueError: k not above 0 or theta not finite.

    >>> print(f"{torsion_torque(0.0805, 1.5):.3f}")
    0.121

    References:
        Hooke's law.
    """
    return positive(rate, "spring rate, N m/rad") * finite(deflection, "deflection, rad")


def torsion_stress(torque: Num, wire: Num, coil: Num) -> Array:
    """Bending stress at the inside of a torsion spring.

    sigma = K 32 T / (pi d^3),  K = (4 C^2 - C - 1) / [4 C (C - 1)],  C = D / d

    Args:
        torque: T, N m, any shape.
        wire: d, wire diameter, m, broadcast.
        coil: D, mean coil diameter, m, broadcast; above d.

    Returns:
        Stress, Pa, broadcast shape.

    Raises:
        ValueError: T below 0, a size not above 0, or D not above d.

    >>> print(f"{torsion_stress(0.1, 0.001, 0.008) / 1e6:.0f}")
    1123

    References:
        Shigley, Mechanical Engineering Design, eq. 10-43, from memory.
    """
    d, D = _coil(wire, coil)
    C = D / d
    inside = (4 * C**2 - C - 1) / (4 * C * (C - 1))
    return inside * 32 * not_negative(torque, "torque, N m") / (np.pi * d**3)


def pawl_lift_margin(spring_torque: Num, mass: Num, arm: Num, friction_torque: Num = 0.0) -> Array:
    """Torque of a pawl spring over what a pawl on its upper side needs to fall in.

    T_spring / (m g a + T_friction)

    Args:
        spring_torque: T_spring with the pawl on a tooth tip, N m, any shape.
        mass: m, mass of the pawl, kg, broadcast.
        arm: a, of its centre of mass from the pin, m, broadcast.
        friction_torque: of grease and rust on the pin, N m, broadcast.

    Returns:
        Plain number, broadcast shape; must stay above 1 in every position of the hoist.

    Raises:
        ValueError: a value below 0, or mass or arm not above 0.

    >>> print(f"{pawl_lift_margin(0.05, 0.08, 0.02):.1f}")
    3.2

    References:
        statics; own derivation.
    """
    weight = positive(mass, "mass of the pawl, kg") * 9.80665 * positive(arm, "arm, m")
    needed = weight + not_negative(friction_torque, "friction torque, N m")
    return not_negative(spring_torque, "spring torque, N m") / needed


def _coil(wire: Num, coil: Num) -> tuple[Array, Array]:
    d, D = positive(wire, "wire diameter, m"), positive(coil, "mean coil diameter, m")
    require(np.asarray(d < D), "mean coil diameter is not above the wire diameter.")
    return d, D
