"""Overload limiter: a preloaded stack of friction discs in the drive that slips.

It guards raising only. It sits between hand and brake, so the load never hangs on it.
"""

from __future__ import annotations

from hoistwright.physics.disc import disc_torque
from hoistwright.physics.drive import shaft_torque
from hoistwright.physics.guard import Array, Num, not_negative, positive, require, share, whole


def slip_torque(preload: Num, mu: Num, radius: Num, faces: Num) -> Array:
    """Torque at which the limiter slips.

    T = n mu F R

    Args:
        preload: F, spring force on the stack, N, any shape.
        mu: friction of the faces, broadcast.
        radius: R, effective radius, m, broadcast.
        faces: n, pairs of faces that slide, whole, broadcast.

    Returns:
        Torque, N m, broadcast shape.

    Raises:
        ValueError: a value below 0, R not above 0 or n not whole.

    >>> print(f"{slip_torque(1200, 0.12, 0.030, 6):.2f}")
    25.92

    References:
        Khurmi, Theory of Machines, ch. 10 (plate clutches).
    """
    return disc_torque(preload, mu, radius, faces)


def slip_load(
    torque: Num, sheave: Num, falls: Num, ratio: Num, efficiency: Num, drag: Num = 0.0
) -> Array:
    """Load on the hook at which a limiter on the drive shaft slips while raising.

    W = 2 n i eta (T - T_drag) / D_eff

    Args:
        torque: T, slip torque, N m, any shape.
        sheave: D_eff, effective diameter of the load sheave, m, broadcast.
        falls: n, whole, broadcast.
        ratio: i, turns of the limiter's shaft per turn of the load sheave, broadcast.
        efficiency: eta from there to the hook, broadcast.
        drag: drag of seals behind the limiter, N m, broadcast; below T.

    Returns:
        Load, N, broadcast shape.

    Raises:
        ValueError: a value out of its range, or the drag takes the whole torque.

    >>> print(f"{slip_load(25.92, 0.0477, 1, 10.0, 0.9):.0f}")
    9781

    References:
        inverse of `drive.shaft_torque`.
    """
    left = positive(torque, "slip torque, N m") - not_negative(drag, "drag torque, N m")
    require(left > 0, "drag torque: takes the whole slip torque; nothing is lifted.")
    geared = 2 * whole(falls, "falls") * positive(ratio, "gear ratio")
    per_torque = geared * share(efficiency, "efficiency")
    return per_torque * left / positive(sheave, "effective diameter, m")


def preload_for(
    load: Num,
    sheave: Num,
    falls: Num,
    ratio: Num,
    efficiency: Num,
    mu: Num,
    radius: Num,
    faces: Num,
) -> Array:
    """Spring force on the stack that makes the limiter slip at a wanted load.

    F = T / (n mu R), T as `drive.shaft_torque`

    Args:
        load: W at which it shall slip, N, any shape.
        sheave: D_eff, effective diameter of the load sheave, m, broadcast.
        falls: whole, broadcast.
        ratio: turns of the limiter's shaft per turn of the load sheave, broadcast.
        efficiency: from there to the hook, broadcast.
        mu: friction of the faces, above 0, broadcast.
        radius: R, effective radius, m, broadcast.
        faces: n, pairs of faces that slide, whole, broadcast.

    Returns:
        Force, N, broadcast shape. Friction scatters: set by test load, not by this alone.

    Raises:
        ValueError: a value out of its range.

    >>> print(f"{preload_for(9781, 0.0477, 1, 10.0, 0.9, 0.12, 0.030, 6):.0f}")
    1200

    References:
        inverse of `slip_torque`.
    """
    per_force = positive(mu, "friction") * positive(radius, "effective radius, m")
    torque = shaft_torque(load, sheave, falls, ratio, efficiency)
    return torque / (whole(faces, "faces") * per_force)
