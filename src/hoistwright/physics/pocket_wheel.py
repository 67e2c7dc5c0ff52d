"""Load sheave and hand chain wheel with pockets, and idle sheaves.

A pocket wheel with N pockets takes 2N links a turn: N lying in pockets, N standing in the
groove between. Its pitch line is the polygon of 2N sides with alternating lengths p + d
(lying link, from end bar to end bar) and p - d (standing link).
"""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import (
    Array,
    Num,
    Truth,
    angle,
    not_negative,
    positive,
    require,
    whole,
)


def pitch_diameter(pockets: Num, p: Num, d: Num) -> Array:
    """Diameter of the circle through the joints of a chain on its pocket wheel.

    D = sqrt[(p / sin(90 deg / N))^2 + (d / cos(90 deg / N))^2]

    Args:
        pockets: N, whole, at least 3, any shape.
        p: pitch of the chain, m, broadcast.
        d: wire diameter, m, broadcast; below p.

    Returns:
        Diameter, m, broadcast shape.

    Raises:
        ValueError: N is not a whole number from 3, a length is not above 0, or d >= p.

    >>> print(f"{pitch_diameter(5, 0.015, 0.005) * 1e3:.4f}")
    48.8249

    References:
        Machinery's Handbook (crane chain sheaves), from memory; proved in the tests as the
        circle through the alternating chords.
    """
    N = whole(pockets, "pockets", 3)
    p, d = positive(p, "pitch p, m"), positive(d, "wire diameter d, m")
    require(np.asarray(d < p), "wire diameter is not below the pitch: no chain can be so.")
    half = np.pi / (2 * N)
    result: Array = np.hypot(p / np.sin(half), d / np.cos(half))
    return result


def chain_per_turn(pockets: Num, p: Num) -> Array:
    """Length of chain that one turn of a pocket wheel moves.

    s = 2 N p

    Args:
        pockets: N, whole, at least 3, any shape.
        p: pitch of the chain, m, broadcast.

    Returns:
        Length, m, broadcast shape.

    Raises:
        ValueError: N is not a whole number from 3 or p is not above 0.

    >>> print(f"{chain_per_turn(5, 0.015) * 1e3:.0f}")
    150

    References:
        geometry: two links pass at each pocket.
    """
    return 2 * whole(pockets, "pockets", 3) * positive(p, "pitch p, m")


def effective_diameter(pockets: Num, p: Num) -> Array:
    """Diameter of the plain drum that moves as much chain a turn; use it for effort.

    D_eff = 2 N p / pi

    Args:
        pockets: N, whole, at least 3, any shape.
        p: pitch of the chain, m, broadcast.

    Returns:
        Diameter, m, broadcast shape; some per cent below the pitch diameter.

    Raises:
        ValueError: N is not a whole number from 3 or p is not above 0.

    >>> print(f"{effective_diameter(5, 0.015) * 1e3:.3f}")
    47.746

    References:
        geometry.
    """
    return chain_per_turn(pockets, p) / np.pi


def arm_range(pockets: Num, p: Num, d: Num) -> tuple[Array, Array]:
    """Least and greatest lever arm of the hanging chain as the polygon turns.

    R cos(alpha) and R, with R = D / 2 and sin(alpha) = (p + d) / D

    Args:
        pockets: N, whole, at least 3, any shape.
        p: pitch of the chain, m, broadcast.
        d: wire diameter, m, broadcast.

    Returns:
        Least and greatest arm, m, each of the broadcast shape.

    Raises:
        ValueError: as `pitch_diameter`.

    >>> low, high = arm_range(5, 0.015, 0.005)
    >>> print(f"{low * 1e3:.2f} {high * 1e3:.2f}")
    22.27 24.41

    References:
        geometry: the joint that carries the fall moves on the pitch circle, and the next
        one takes over when the link between them hangs straight; own derivation.
    """
    D = pitch_diameter(pockets, p, d)
    chord = positive(p, "pitch p, m") + positive(d, "wire diameter d, m")
    least: Array = np.sqrt(D**2 - chord**2) / 2
    return least, D / 2


def speed_ripple(pockets: Num, p: Num, d: Num) -> Array:
    """Swing of the chain speed, and so of the pull, within a pocket at steady turning.

    (v_max - v_min) / v_mean = (R - R cos(alpha)) / (N p / pi)

    Args:
        pockets: N, whole, at least 3, any shape.
        p: pitch of the chain, m, broadcast.
        d: wire diameter, m, broadcast.

    Returns:
        Swing as a plain number, broadcast shape.

    Raises:
        ValueError: as `pitch_diameter`.

    >>> print(f"{speed_ripple(5, 0.015, 0.005):.3f}")
    0.090

    References:
        geometry of `arm_range`; own derivation.
    """
    least, greatest = arm_range(pockets, p, d)
    return (greatest - least) / (effective_diameter(pockets, p) / 2)


def engaged_pockets(pockets: Num, wrap: Num) -> Array:
    """Pockets that hold a link at once, at most, for a wrap of the chain.

    m = floor(N wrap / 2 pi) + 1, at most N

    Args:
        pockets: N, whole, at least 3, any shape.
        wrap: angle over which the chain lies on the wheel, rad, broadcast.

    Returns:
        Count (whole numbers as floats), broadcast shape.

    Raises:
        ValueError: N is not a whole number from 3, or wrap not within one turn.

    >>> import math
    >>> print(engaged_pockets(5, math.pi))
    3.0

    References:
        geometry.
    """
    N = whole(pockets, "pockets", 3)
    turn = angle(wrap, "wrap", 0, 2 * np.pi + 1e-9)
    result: Array = np.minimum(np.floor(N * turn / (2 * np.pi) + 1e-9) + 1, N)
    return result


def pitch_growth_tolerated(pocket_length: Num, link_length: Num, engaged: Num) -> Array:
    """Growth of each link up to which every engaged link still lies in its pocket.

    delta = (pocket - link) / (2 m - 1): the first link grows by delta itself, and each
    pocket further on is reached after two grown links.

    Args:
        pocket_length: clear length of a pocket, m, any shape.
        link_length: outside length p + 2 d of a link as new, m, broadcast.
        engaged: m, pockets that hold a link at once, whole, broadcast.

    Returns:
        Growth per link, m, broadcast shape; below 0 when even a new link does not go in.

    Raises:
        ValueError: a length is not above 0 or m is not a whole number from 1.

    >>> print(f"{pitch_growth_tolerated(0.0265, 0.025, 3) * 1e3:.2f}")
    0.30

    References:
        own derivation, on the safe side (stretched links; worn ones do not grow outside).
    """
    play = positive(pocket_length, "pocket length, m") - positive(link_length, "link length, m")
    return play / (2 * whole(engaged, "engaged pockets") - 1)


def seats_in_pockets(pocket_length: Num, p: Num, d: Num, p_new: Num, engaged: Num) -> Truth:
    """Tell whether a chain of pitch p lies in all engaged pockets of a wheel made for p_new.

    pocket >= p_new + 2 d  and  |p - p_new| <= delta of `pitch_growth_tolerated`

    Args:
        pocket_length: clear length of a pocket, m, any shape.
        p: pitch of this chain, m, broadcast.
        d: wire diameter, m, broadcast.
        p_new: pitch the wheel is made for, m, broadcast.
        engaged: pockets that hold a link at once, whole, broadcast.

    Returns:
        Truth, broadcast shape.

    Raises:
        ValueError: a length is not above 0 or the count is not a whole number from 1.

    >>> print(seats_in_pockets(0.0265, [0.0152, 0.0155], 0.005, 0.015, 3))
    [ True False]

    References:
        own derivation.
    """
    new, now = positive(p_new, "pitch of the wheel, m"), positive(p, "pitch p, m")
    link = new + 2 * positive(d, "wire diameter d, m")
    tolerated = pitch_growth_tolerated(pocket_length, link, engaged)
    seats: Truth = np.abs(now - new) <= tolerated * (1 + 1e-12)
    return seats


def loss_arm(D: Num, d: Num, mu_chain: Num, bearing_d: Num, mu_bearing: Num) -> Array:
    """Loss of a chain wheel, as a part of each chain force that it turns.

    a = (mu_c d + mu_b d_b) / D: a joint of wire diameter d turns under the chain force as
    it runs on or off, and the bearing of diameter d_b turns under the same force.

    Args:
        D: effective diameter of the wheel, m, any shape.
        d: wire diameter, m, broadcast.
        mu_chain: friction of link in link, broadcast.
        bearing_d: diameter at which the bearing slides or rolls, m, broadcast.
        mu_bearing: friction of the bearing, broadcast.

    Returns:
        Plain number, broadcast shape.

    Raises:
        ValueError: D or d is not above 0, or another value is below 0.

    >>> print(f"{loss_arm(0.0477, 0.005, 0.1, 0.03, 0.01):.4f}")
    0.0168

    References:
        work of a joint over its turning angle; own derivation.
    """
    chain = not_negative(mu_chain, "chain friction") * positive(d, "wire diameter d, m")
    bearing = not_negative(mu_bearing, "bearing friction") * not_negative(bearing_d, "bearing, m")
    return (chain + bearing) / positive(D, "effective diameter, m")


def load_sheave_efficiency(a: Num) -> Array:
    """Efficiency of a wheel that lifts a loaded fall with a slack other side.

    eta = 1 / (1 + a)

    Args:
        a: loss of `loss_arm`, any shape.

    Returns:
        Efficiency, shape of a.

    Raises:
        ValueError: a is below 0.

    >>> print(f"{load_sheave_efficiency(0.0168):.4f}")
    0.9835

    References:
        own derivation.
    """
    return 1 / (1 + not_negative(a, "loss of the sheave"))


def idle_sheave_efficiency(a: Num) -> Array:
    """Efficiency of an idle sheave with half a turn of wrap: slack side over tight side.

    F_s / F_t = (1 - a) / (1 + a), as both chain forces bend joints and press the bearing

    Args:
        a: loss of `loss_arm`, below 1, any shape.

    Returns:
        Efficiency, shape of a.

    Raises:
        ValueError: a is below 0 or not below 1.

    >>> print(f"{idle_sheave_efficiency(0.0168):.4f}")
    0.9670

    References:
        own derivation; handbook tables give 0.94 to 0.98 for chain on bushed or
        rolling sheaves, from memory.
    """
    a = not_negative(a, "loss of the sheave")
    require(np.asarray(a < 1), "loss of the sheave is 1 or more: the sheave would not turn.")
    return (1 - a) / (1 + a)
