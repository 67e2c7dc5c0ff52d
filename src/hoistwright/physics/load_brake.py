"""Screw-and-disc load brake: does it hold, how hard is it clamped, what pull lowers.

The stack on the drive shaft, from the gear side: disc hub (fixed to the shaft), friction
disc, ratchet disc (free on its bush), friction disc, hand wheel (on the shaft's thread).
The load turns the shaft in the lowering direction with torque T; pawls stop the ratchet
disc in that direction. Turning the hand wheel towards raising screws it against the stack.

Faces. One clamp force N passes through the whole stack. Each friction disc has two faces
in series, and the weaker one slips, so a disc counts once. The ratchet disc is held by two
such interfaces side by side: the hub side, mu N R, and the wheel side, mu N R. Both carry
torque to the pawls at once. R is the effective radius (see `disc`).

Why it locks. The load turns the shaft within the hand wheel, which tightens the thread as
long as the wheel stands still. To tighten takes thread torque N r tan(lambda + phi) on
the wheel, and only the wheel-side interface, mu N R, can keep the wheel from following.
So the clamp grows if, and only if,

    S = mu R / [r tan(lambda + phi)] > 1        (lock ratio; without load and clamp in it)

With S < 1 the wheel is dragged along, the clamp stays whatever it is, and any load above
2 mu N R runs away. The hub side slips while the clamp grows and takes its mu N R off the
load, until the rest no longer turns the thread:

    T = mu N R + N r tan(lambda + phi)          (clamp left by the load)

Both interfaces together could then hold 2 mu N R, which is T times 2 S / (S + 1): the
holding reserve is above 1 exactly when S is, and never above 2.

Raising. The same clamp passes the hand torque on, part through the thread and part
through the discs; nothing slides, so the brake thread costs no effort in steady raising, only the
moment of tightening.

Lowering. Hand torque H turns the wheel, and everything but the ratchet disc turns with
it; both interfaces slip: H + T = 2 mu N R. With the clamp left by the load this gives

    H = T (S - 1) / (S + 1)

which is 0 at S = 1 (it lowers by itself) and rises with the friction. A brake left tighter
by the factor c than the load alone would (jammed, chain snatched) must be unscrewed or
slid: `release_torque`.

A jerk is no proof: a load that drops on a brake with S below 1 can jam it by the blow, and
the next load, taken gently, runs away.

Lining wear takes up thickness and wheel travel, not S. Oil on the faces lowers mu and S;
a dry thread raises phi and lowers S too.

References: equilibrium as above, own derivation; proved in the tests by simulation in the
time domain.
"""

from __future__ import annotations

import numpy as np

from hoistwright.physics.friction import FrictionBand
from hoistwright.physics.guard import Array, Num, not_negative, positive, require
from hoistwright.physics.screw import loosen_torque, tan_sum, thread_friction_angle


def lock_ratio(mu: Num, face_radius: Num, thread_radius: Num, lead: Num, friction: Num) -> Array:
    """Lock ratio of the brake: above 1 the load clamps it, below 1 the load runs away.

    S = mu R / [r tan(lambda + phi)]

    Args:
        mu: friction of the faces, any shape.
        face_radius: R, effective radius of the wheel-side face, m, broadcast.
        thread_radius: r, mean radius of the thread, m, broadcast.
        lead: lambda, lead angle, rad, broadcast.
        friction: phi, friction angle of the thread, rad, broadcast.

    Returns:
        Plain number, broadcast shape.

    Raises:
        ValueError: mu below 0, a radius not above 0, an angle out of range.

    >>> print(f"{lock_ratio(0.3, 0.035, 0.011, 0.16, 0.12):.3f}")
    3.320

    References:
        module docstring (own derivation).
    """
    face = not_negative(mu, "face friction") * positive(face_radius, "face radius, m")
    return face / (positive(thread_radius, "thread radius, m") * tan_sum(lead, friction))


def lock_ratio_band(
    faces: FrictionBand,
    thread: FrictionBand,
    face_radius: Num,
    thread_radius: Num,
    lead: Num,
    half_angle: Num = 0.0,
) -> tuple[Array, Array]:
    """Lowest and highest credible lock ratio for a state of faces and thread.

    S_low from the lowest face and the highest thread friction, S_high from the reverse

    Args:
        faces: friction band of the faces.
        thread: friction band of the thread.
        face_radius: R, effective radius, m, any shape.
        thread_radius: r, mean radius of the thread, m, broadcast.
        lead: lambda, lead angle, rad, broadcast.
        half_angle: half of the thread angle, rad, broadcast.

    Returns:
        Lowest and highest S, each of the broadcast shape.

    Raises:
        ValueError: as `lock_ratio`.

    >>> from hoistwright.physics.friction import FACE_BANDS, THREAD_BANDS
    >>> low, high = lock_ratio_band(
    ...     FACE_BANDS["oily"], THREAD_BANDS["oiled"], 0.035, 0.011, 0.16)
    >>> print(f"{low:.2f} {high:.2f}")
    0.47 2.30

    References:
        module docstring; bands and their sources in `friction`.
    """
    stiff = thread_friction_angle(thread.high, half_angle)
    easy = thread_friction_angle(thread.low, half_angle)
    return (
        lock_ratio(faces.low, face_radius, thread_radius, lead, stiff),
        lock_ratio(faces.high, face_radius, thread_radius, lead, easy),
    )


def clamp_force(
    torque: Num, mu: Num, face_radius: Num, thread_radius: Num, lead: Num, friction: Num
) -> Array:
    """Clamp force that a load torque leaves in the brake.

    N = T / [mu R + r tan(lambda + phi)]

    Args:
        torque: T, load torque on the drive shaft, N m, any shape.
        mu: friction of the faces, broadcast.
        face_radius: R, effective radius, m, broadcast.
        thread_radius: r, mean radius of the thread, m, broadcast.
        lead: lambda, lead angle, rad, broadcast.
        friction: phi, friction angle of the thread, rad, broadcast.

    Returns:
        Force, N, broadcast shape. It means something for S > 1 only (or after raising by
        hand); with S < 1 the load does not clamp at all.

    Raises:
        ValueError: T or mu below 0, a radius not above 0, an angle out of range.

    >>> print(f"{clamp_force(20, 0.3, 0.035, 0.011, 0.16, 0.12):.0f}")
    1464

    References:
        module docstring (own derivation).
    """
    face = not_negative(mu, "face friction") * positive(face_radius, "face radius, m")
    thread = positive(thread_radius, "thread radius, m") * tan_sum(lead, friction)
    return not_negative(torque, "load torque, N m") / (face + thread)


def holding_reserve(S: Num) -> Array:
    """Friction torque of both faces at the load's own clamp, over the load torque.

    2 S / (S + 1)

    Args:
        S: lock ratio, any shape.

    Returns:
        Plain number, shape of S; above 1 exactly when S is, and never above 2.

    Raises:
        ValueError: S below 0.

    >>> print(f"{holding_reserve(3.0):.2f}")
    1.50

    References:
        module docstring (own derivation).
    """
    S = not_negative(S, "lock ratio S")
    return 2 * S / (S + 1)


def lowering_torque(torque: Num, S: Num, clamp_factor: Num = 1.0) -> Array:
    """Torque by hand on the wheel that lowers the load, both faces sliding.

    H = T (2 c S / (S + 1) - 1); at c = 1 this is T (S - 1) / (S + 1)

    Args:
        torque: T, load torque on the drive shaft, N m, any shape.
        S: lock ratio at the friction of sliding, broadcast.
        clamp_factor: c, clamp there is over the clamp that the load leaves, broadcast.

    Returns:
        Torque, N m, broadcast shape; below 0 means that the load runs by itself.

    Raises:
        ValueError: a value below 0.

    >>> print(f"{lowering_torque(20, 3.0):.2f}")
    10.00

    References:
        module docstring (own derivation).
    """
    reserve = not_negative(clamp_factor, "clamp factor") * holding_reserve(S)
    return not_negative(torque, "load torque, N m") * (reserve - 1)


def release_torque(
    clamp: Num, mu: Num, face_radius: Num, thread_radius: Num, lead: Num, friction: Num
) -> Array:
    """Torque by hand that unscrews a jammed brake while the shaft stands.

    H = N [mu R + r tan(phi - lambda)]

    Args:
        clamp: N, clamp force, N, any shape.
        mu: friction of the faces at rest, broadcast.
        face_radius: R, effective radius, m, broadcast.
        thread_radius: r, mean radius of the thread, m, broadcast.
        lead: lambda, lead angle, rad, broadcast.
        friction: phi, friction angle of the thread, rad, broadcast.

    Returns:
        Torque, N m, broadcast shape. If `lowering_torque` at this clamp is the smaller,
        the stack slides as one before it unscrews.

    Raises:
        ValueError: N or mu below 0, a radius not above 0, an angle out of range.

    >>> print(f"{release_torque(1464, 0.3, 0.035, 0.011, 0.16, 0.12):.2f}")
    14.73

    References:
        module docstring (own derivation).
    """
    face = not_negative(mu, "face friction") * positive(face_radius, "face radius, m")
    thread = loosen_torque(clamp, thread_radius, lead, friction)
    return not_negative(clamp, "clamp force, N") * face + thread


def lowering_heat(torque: Num, S: Num) -> Array:
    """Work turned into heat in the faces for each radian that the shaft lowers.

    Q = T + H = 2 T S / (S + 1)

    Args:
        torque: T, load torque on the drive shaft, N m, any shape.
        S: lock ratio at the friction of sliding, broadcast; at least 1.

    Returns:
        Work per angle, J/rad, broadcast shape.

    Raises:
        ValueError: T below 0 or S below 1 (the load would run away).

    >>> print(f"{lowering_heat(20, 3.0):.1f}")
    30.0

    References:
        module docstring (own derivation): the work of load and hand has nowhere else to go.
    """
    S = not_negative(S, "lock ratio S")
    require(np.asarray(S >= 1), "lock ratio S: below 1 the load runs away; lowering has no rate.")
    return not_negative(torque, "load torque, N m") * holding_reserve(S)


def axial_clearance(set_back: Num, lead: Num) -> Array:
    """Free axial play that the lock nut leaves to the hand wheel.

    c = t l

    Args:
        set_back: t, how far the lock nut is turned back, turns, any shape.
        lead: l, lead of the thread, m, broadcast.

    Returns:
        Clearance, m, broadcast shape.

    Raises:
        ValueError: t below 0 or l not above 0.

    >>> print(f"{axial_clearance(0.5, 0.0015) * 1e3:.2f}")
    0.75

    References:
        geometry of the screw; half a turn is common practice, the maker's figure governs.
    """
    return not_negative(set_back, "set-back, turns") * positive(lead, "lead, m")


def closing_turns(clearance: Num, lead: Num) -> Array:
    """Turn of the hand wheel that takes up an axial clearance.

    t = c / l

    Args:
        clearance: c, axial play with worn linings included, m, any shape.
        lead: l, lead of the wheel's thread, m, broadcast.

    Returns:
        Turns, broadcast shape.

    Raises:
        ValueError: c below 0 or l not above 0.

    >>> print(f"{closing_turns(0.0009, 0.012):.3f}")
    0.075

    References:
        geometry of the screw.
    """
    return not_negative(clearance, "clearance, m") / positive(lead, "lead, m")
