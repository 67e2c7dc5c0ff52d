"""From the hook to the hand: torque, pull, hand chain, pawl clicks, lever strokes.

Losses that grow with the load are efficiencies and multiply; drag that does not (seals,
pawl springs) is a torque on the drive shaft and adds. In steady raising the load brake
turns as one clamped unit and loses nothing (see `load_brake`).
"""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import Array, Num, angle, not_negative, positive, share, whole


def mesh_efficiency(za: Num, zb: Num, mu: Num, approach: Num = 0.8, recess: Num = 0.8) -> Array:
    """Efficiency of one external spur mesh.

    eta = 1 - mu pi (1/za + 1/zb) (1 - eps + eps_1^2 + eps_2^2), eps = eps_1 + eps_2

    Args:
        za: teeth of the one gear, whole, any shape.
        zb: teeth of the other, whole, broadcast.
        mu: mean tooth friction, broadcast; 0.06 to 0.12 greased.
        approach: eps_1, contact ratio before the pitch point, broadcast.
        recess: eps_2, contact ratio after it, broadcast.

    Returns:
        Efficiency, broadcast shape.

    Raises:
        ValueError: teeth not whole, a value below 0, or a loss of the whole power.

    >>> print(f"{mesh_efficiency(12, 40, 0.1):.4f}")
    0.9769

    References:
        Ohlendorf 1958; Niemann and Winter, Maschinenelemente II (tooth loss factor), from
        memory.
    """
    e1 = not_negative(approach, "approach contact ratio")
    e2 = not_negative(recess, "recess contact ratio")
    pairs = 1 / whole(za, "teeth za", 4) + 1 / whole(zb, "teeth zb", 4)
    path = 1 - e1 - e2 + e1**2 + e2**2
    loss = not_negative(mu, "tooth friction") * np.pi * pairs * path
    return share(1 - loss, "efficiency of the mesh (1 less its loss)")


def drive_efficiency(
    mesh: Num,
    bearing: Num,
    load_sheave: Num,
    reeving: Num = 1.0,
    meshes: Num = 2,
    bearings: Num = 3,
) -> Array:
    """Efficiency from hand wheel or lever to hook, from its parts.

    eta = eta_mesh^a eta_bearing^b eta_sheave eta_reeving

    Args:
        mesh: mean efficiency of one mesh, any shape.
        bearing: mean efficiency of one shaft's bearings, broadcast.
        load_sheave: efficiency of the chain on the load sheave, broadcast.
        reeving: efficiency of the falls, broadcast.
        meshes: a, meshes in series, whole from 0, broadcast.
        bearings: b, shafts in series, whole from 0, broadcast.

    Returns:
        Efficiency, broadcast shape.

    Raises:
        ValueError: an efficiency not above 0 and at most 1, a count not whole.

    >>> print(f"{drive_efficiency(0.977, 0.99, 0.98):.3f}")
    0.908

    References:
        product of efficiencies in series; handbook figure for spur-geared hand hoists as a
        whole: about 0.85.
    """
    gears = share(mesh, "efficiency of a mesh") ** whole(meshes, "meshes", 0)
    shafts = share(bearing, "efficiency of a bearing") ** whole(bearings, "bearings", 0)
    chain = share(load_sheave, "efficiency of the load sheave")
    return gears * shafts * chain * share(reeving, "efficiency of the reeving")


def shaft_torque(
    load: Num, sheave: Num, falls: Num, ratio: Num, efficiency: Num = 1.0, drag: Num = 0.0
) -> Array:
    """Torque on the drive shaft that raises a load.

    T = W D_eff / (2 n i eta) + T_drag

    Args:
        load: W, weight on the hook with hook and block, N, any shape.
        sheave: D_eff, effective diameter of the load sheave, m, broadcast.
        falls: n, whole, broadcast.
        ratio: i, turns of the drive shaft per turn of the load sheave, broadcast.
        efficiency: eta, broadcast.
        drag: drag of seals and pawls on the drive shaft, N m, broadcast.

    Returns:
        Torque, N m, broadcast shape. With eta = 1 and no drag: what the load exerts.

    Raises:
        ValueError: a value out of its range.

    >>> print(f"{shaft_torque(9806.65, 0.0477, 1, 10.0):.2f}")
    23.39

    References:
        Khurmi, Engineering Mechanics, ch. 11 (lifting machines): effort from velocity ratio
        and efficiency.
    """
    reduction = 2 * whole(falls, "falls") * positive(ratio, "gear ratio")
    loaded = not_negative(load, "load, N") * positive(sheave, "effective diameter, m")
    turned = loaded / (reduction * share(efficiency, "efficiency"))
    return turned + not_negative(drag, "drag torque, N m")


def shaft_torque_from_load(
    load: Num, sheave: Num, falls: Num, ratio: Num, efficiency: Num = 1.0
) -> Array:
    """Torque that a hanging load exerts on the drive shaft and its brake.

    T = W D_eff eta / (2 n i)

    Args:
        load: W, weight on the hook with hook and block, N, any shape.
        sheave: D_eff, effective diameter of the load sheave, m, broadcast.
        falls: n, whole, broadcast.
        ratio: i, turns of the drive shaft per turn of the load sheave, broadcast.
        efficiency: eta towards the brake; leave it at 1 to be on the safe side.

    Returns:
        Torque, N m, broadcast shape.

    Raises:
        ValueError: a value out of its range.

    >>> print(f"{shaft_torque_from_load(9806.65, 0.0477, 1, 10.0, 0.9):.2f}")
    21.05

    References:
        as `shaft_torque`, with the losses helping to hold.
    """
    return shaft_torque(load, sheave, falls, ratio) * share(efficiency, "efficiency")


def hand_pull(torque: Num, hand_wheel: Num) -> Array:
    """Pull on the hand chain for a torque on the drive shaft.

    P = 2 T / D_hand

    Args:
        torque: T on the drive shaft, N m, any shape.
        hand_wheel: D_hand, effective diameter of the hand chain wheel, m, broadcast.

    Returns:
        Pull, N, broadcast shape.

    Raises:
        ValueError: T below 0 or D not above 0.

    >>> print(f"{hand_pull(25.8, 0.16):.1f}")
    322.5

    References:
        geometry.
    """
    return 2 * not_negative(torque, "torque, N m") / positive(hand_wheel, "hand wheel, m")


def lever_pull(torque: Num, lever: Num) -> Array:
    """Pull at the grip of a lever hoist for a torque on the drive shaft.

    P = T / L

    Args:
        torque: T on the drive shaft, N m, any shape.
        lever: L, from the shaft to the middle of the grip, m, broadcast.

    Returns:
        Pull, N, broadcast shape.

    Raises:
        ValueError: T below 0 or L not above 0.

    >>> print(f"{lever_pull(80.0, 0.25):.0f}")
    320

    References:
        geometry.
    """
    return not_negative(torque, "torque, N m") / positive(lever, "lever, m")


def shaft_turns_per_lift(falls: Num, ratio: Num, sheave: Num) -> Array:
    """Turns of the drive shaft for each metre that the hook rises.

    n i / (pi D_eff)

    Args:
        falls: n, whole, any shape.
        ratio: i, gear ratio, broadcast.
        sheave: D_eff, effective diameter of the load sheave, m, broadcast.

    Returns:
        Turns per metre, 1/m, broadcast shape.

    Raises:
        ValueError: falls not whole or a value not above 0.

    >>> print(f"{shaft_turns_per_lift(1, 10.0, 0.047746):.2f}")
    66.67

    References:
        geometry.
    """
    turned = whole(falls, "falls") * positive(ratio, "gear ratio")
    return turned / (np.pi * positive(sheave, "effective diameter, m"))


def hand_chain_per_lift(falls: Num, ratio: Num, sheave: Num, hand_wheel: Num) -> Array:
    """Hand chain to pull for each metre that the hook rises; the velocity ratio.

    VR = n i D_hand / D_eff

    Args:
        falls: n, whole, any shape.
        ratio: i, gear ratio, broadcast.
        sheave: D_eff, effective diameter of the load sheave, m, broadcast.
        hand_wheel: D_hand, effective diameter of the hand chain wheel, m, broadcast.

    Returns:
        Metres per metre, broadcast shape.

    Raises:
        ValueError: falls not whole or a value not above 0.

    >>> print(f"{hand_chain_per_lift(1, 10.0, 0.047746, 0.16):.2f}")
    33.51

    References:
        Khurmi, Engineering Mechanics, ch. 11 (velocity ratio).
    """
    turns = shaft_turns_per_lift(falls, ratio, sheave)
    return turns * np.pi * positive(hand_wheel, "hand wheel, m")


def clicks_per_lift(turns_per_lift: Num, ratchet_teeth: Num, beats: Num = 1) -> Array:
    """Pawl clicks heard for each metre that the hook rises.

    turns per metre times teeth times b

    Args:
        turns_per_lift: turns of the drive shaft per metre of lift, 1/m, any shape.
        ratchet_teeth: teeth of the ratchet disc, whole, broadcast.
        beats: b, 2 when two pawls fall in turn (half a tooth apart), 1 when together.

    Returns:
        Clicks per metre, 1/m, broadcast shape.

    Raises:
        ValueError: turns not above 0 or a count not whole.

    >>> print(f"{clicks_per_lift(66.67, 12):.0f}")
    800

    References:
        geometry; counting clicks is common practice.
    """
    teeth = whole(ratchet_teeth, "ratchet teeth", 3) * whole(beats, "pawl beats")
    return positive(turns_per_lift, "turns per metre") * teeth


def lever_strokes_per_lift(turns_per_lift: Num, swing: Num, ratchet_teeth: Num) -> Array:
    """Lever strokes for each metre of lift; only whole ratchet teeth count in a stroke.

    strokes = turns per metre z / floor(z swing / 2 pi)

    Args:
        turns_per_lift: turns of the drive shaft per metre of lift, 1/m, any shape.
        swing: usable swing of the lever, rad, broadcast.
        ratchet_teeth: z, teeth of the lever's ratchet, whole, broadcast.

    Returns:
        Strokes per metre, 1/m, broadcast shape.

    Raises:
        ValueError: a value out of range, or the swing does not reach one tooth.

    >>> import math
    >>> print(f"{lever_strokes_per_lift(66.67, math.pi / 2, 18):.1f}")
    300.0

    References:
        geometry.
    """
    z = whole(ratchet_teeth, "ratchet teeth", 3)
    part = angle(swing, "lever swing", 0.0, 2 * np.pi) / (2 * np.pi)
    caught = whole(np.floor(z * part + 1e-9), "ratchet teeth in one lever swing")
    return positive(turns_per_lift, "turns per metre") * z / caught


def efficiency_found(load: Num, pull: Num, velocity_ratio: Num) -> Array:
    """Efficiency from a measured pull.

    eta = W / (P VR)

    Args:
        load: W on the hook, N, any shape.
        pull: P, steady pull while raising, N, broadcast.
        velocity_ratio: VR, broadcast.

    Returns:
        Efficiency, broadcast shape; above 1 says that a reading or the design is wrong.

    Raises:
        ValueError: W below 0 or another value not above 0.

    >>> print(f"{efficiency_found(1500, 125, 30):.2f}")
    0.40

    References:
        Khurmi, Engineering Mechanics, ch. 10 (simple machines).
    """
    put_in = positive(pull, "pull, N") * positive(velocity_ratio, "velocity ratio")
    return not_negative(load, "load, N") / put_in
