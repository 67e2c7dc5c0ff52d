"""Tooth strength of spur gears: bending at the root and contact at the pitch point."""

from __future__ import annotations

import numpy as np

from hoistwright.physics.gears import PRESSURE_ANGLE
from hoistwright.physics.guard import Array, Num, angle, not_negative, positive, require, whole

# Lewis form factor Y, 20 deg full depth: Shigley table 14-2 from 12 teeth, Machinery's
# Handbook for 10 and 11; from memory.
_LEWIS_Z = (10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 24, 26, 28, 30, 34, 38, 43, 50)
_LEWIS_Y = (
    *(0.201, 0.226, 0.245, 0.261, 0.277, 0.290, 0.296, 0.303, 0.309, 0.314, 0.322),
    *(0.328, 0.331, 0.337, 0.346, 0.353, 0.359, 0.371, 0.384, 0.397, 0.409),
)
_LEWIS_Z_HIGH = (60, 75, 100, 150, 300, 400)
_LEWIS_Y_HIGH = (0.422, 0.435, 0.447, 0.460, 0.472, 0.480)
_LEWIS_RACK = 0.485


def tooth_force(torque: Num, module: Num, z: Num, meshes: Num = 1) -> Array:
    """Tangential force at one mesh of a gear.

    F_t = 2 T / (m z n)

    Args:
        torque: torque of the gear, N m, any shape.
        module: m, m (metres), broadcast.
        z: teeth, whole, broadcast.
        meshes: n, layshafts that truly share the load (1 when the timing is wrong).

    Returns:
        Force, N, broadcast shape.

    Raises:
        ValueError: torque below 0, module not above 0, a count not whole.

    >>> print(tooth_force(30.0, 0.002, 15, 2))
    1000.0

    References:
        Shigley, Mechanical Engineering Design, ch. 13, from memory.
    """
    radius = positive(module, "module, m") * whole(z, "teeth z", 4) / 2
    return not_negative(torque, "torque, N m") / (radius * whole(meshes, "meshes"))


def lewis_form_factor(z: Num) -> Array:
    """Lewis form factor Y of a 20 deg full-depth tooth, loaded at the tip.

    Y from the table, straight lines in 1/z between its rows; 0.485 for a rack

    Args:
        z: teeth, whole, at least 10, any shape.

    Returns:
        Factor, shape of z. Profile-shifted pinions are stronger than this.

    Raises:
        ValueError: z is not a whole number from 10; for fewer teeth or shifted ones use
            `tooth_form.form_factor_from_shape`.

    >>> print(f"{lewis_form_factor(16):.3f}")
    0.296

    References:
        Shigley, Mechanical Engineering Design, table 14-2; Machinery's Handbook for 10 and
        11 teeth; from memory.
    """
    z = whole(z, "teeth z", 10)
    places = 1 / np.asarray(_LEWIS_Z + _LEWIS_Z_HIGH, dtype=np.float64)
    knots = np.append(places, 0.0)[::-1]
    values = np.append(np.asarray(_LEWIS_Y + _LEWIS_Y_HIGH), _LEWIS_RACK)[::-1]
    result: Array = np.interp(1 / z, knots, values)
    return result


def velocity_factor(speed: Num, reference: Num = 6.096) -> Array:
    """Barth's factor by which running tooth load exceeds the still one.

    K_v = (v_0 + v) / v_0

    Args:
        speed: pitch line speed v, m/s, any shape.
        reference: v_0, m/s: 3.048 (600 ft/min) for cast teeth, 6.096 (1200 ft/min) for cut
            or milled ones.

    Returns:
        Factor, broadcast shape; near 1 for hand hoists.

    Raises:
        ValueError: speed below 0 or reference not above 0.

    >>> print(f"{velocity_factor(3.19177):.4f}")
    1.5236

    References:
        Shigley, Mechanical Engineering Design, eq. 14-4 and 14-5, from memory.
    """
    v0 = positive(reference, "reference speed, m/s")
    return (v0 + not_negative(speed, "pitch line speed, m/s")) / v0


def lewis_stress(force: Num, width: Num, module: Num, form: Num, velocity: Num = 1.0) -> Array:
    """Bending stress at the root of a tooth.

    sigma = K_v F_t / (b m Y)

    Args:
        force: F_t, tangential, of one mesh, N, any shape.
        width: b, face width in contact, m, broadcast.
        module: m, m (metres), broadcast.
        form: Y, Lewis form factor, broadcast.
        velocity: K_v, from 1, broadcast.

    Returns:
        Stress, Pa, broadcast shape, without the notch effect of the fillet.

    Raises:
        ValueError: force below 0 or another value not above 0.

    >>> print(f"{lewis_stress(1000, 0.02, 0.002, 0.296) / 1e6:.1f}")
    84.5

    References:
        Lewis 1892; Shigley, Mechanical Engineering Design, eq. 14-8, from memory.
    """
    section = positive(width, "face width, m") * positive(module, "module, m")
    load = positive(velocity, "velocity factor") * not_negative(force, "tooth force, N")
    return load / (section * positive(form, "form factor Y"))


def contact_stress(
    force: Num,
    width: Num,
    da: Num,
    db: Num,
    modulus: Num = 206e9,
    poisson: Num = 0.3,
    alpha: Num = PRESSURE_ANGLE,
) -> Array:
    """Hertz pressure at the pitch point of an external spur mesh, both gears of one material.

    p = sqrt{F_t / (b cos(alpha)) (1/rho_a + 1/rho_b) E / [2 pi (1 - nu^2)]},
    rho = d sin(alpha) / 2

    Args:
        force: F_t, tangential, of one mesh, N, any shape.
        width: b, face width in contact, m, broadcast.
        da: pitch diameter of the one gear, m, broadcast.
        db: pitch diameter of the other, m, broadcast.
        modulus: E, Pa, broadcast.
        poisson: nu, broadcast.
        alpha: pressure angle, rad, broadcast.

    Returns:
        Pressure, Pa, broadcast shape.

    Raises:
        ValueError: force below 0, a size not above 0, nu not within 0 to 0.5.

    >>> print(f"{contact_stress(1000, 0.02, 0.03, 0.1) / 1e6:.0f}")
    697

    References:
        ISO 6336-2 (elasticity factor 189.8 sqrt(N/mm2) for steel on steel), from memory.
    """
    alpha = angle(alpha, "pressure angle", 0.0, np.pi / 4)
    nu = positive(poisson, "Poisson ratio")
    require(np.asarray(nu < 0.5), "Poisson ratio: given 0.5 or more; metals have about 0.3.")
    curvature = 1 / positive(da, "pitch diameter, m") + 1 / positive(db, "pitch diameter, m")
    per_width = not_negative(force, "tooth force, N") / positive(width, "face width, m")
    stiff = positive(modulus, "modulus E, Pa") / (2 * np.pi * (1 - nu**2))
    line = per_width / np.cos(alpha) * 2 * curvature / np.sin(alpha)
    result: Array = np.sqrt(line * stiff)
    return result
