"""Falls of load chain between hoist body and bottom block.

Falls are counted from the live one, which runs to the load sheave. One idle sheave lies
between each fall and the next, so n falls have n - 1 sheaves. The velocity ratio of the
reeving is n.
"""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import Array, Num, not_negative, positive, require, share, whole


def live_fall_force(load: Num, falls: Num, sheave: Num = 1.0) -> Array:
    """Force in the live fall while raising.

    F_1 = W / (1 + eta + ... + eta^(n-1))

    Args:
        load: weight on the bottom hook with block and hook, N, any shape.
        falls: n, whole, broadcast.
        sheave: eta, efficiency of one idle sheave, broadcast.

    Returns:
        Force, N, broadcast shape.

    Raises:
        ValueError: load below 0, falls not whole, or efficiency not within 0 to 1.

    >>> print(f"{live_fall_force(20000, 2, 0.96):.1f}")
    10204.1

    References:
        Dubbel, Taschenbuch fuer den Maschinenbau (pulley blocks), from memory.
    """
    W = not_negative(load, "load, N")
    return W / _fall_sum(whole(falls, "falls"), share(sheave, "efficiency of a sheave"))


def live_fall_force_lowering(load: Num, falls: Num, sheave: Num = 1.0) -> Array:
    """Force in the live fall while lowering; the sheaves now help to hold.

    F_1 = W / (1 + 1/eta + ... + 1/eta^(n-1))

    Args:
        load: weight on the bottom hook with block and hook, N, any shape.
        falls: n, whole, broadcast.
        sheave: eta, efficiency of one idle sheave, broadcast.

    Returns:
        Force, N, broadcast shape.

    Raises:
        ValueError: load below 0, falls not whole, or efficiency not within 0 to 1.

    >>> print(f"{live_fall_force_lowering(20000, 2, 0.96):.1f}")
    9795.9

    References:
        Dubbel, Taschenbuch fuer den Maschinenbau (pulley blocks), from memory.
    """
    W = not_negative(load, "load, N")
    return W / _fall_sum(whole(falls, "falls"), 1 / share(sheave, "efficiency of a sheave"))


def fall_forces(load: Num, falls: int, sheave: Num = 1.0) -> Array:
    """Force in each fall while raising, the live fall first.

    F_k = F_1 eta^(k-1)

    Args:
        load: weight on the bottom hook with block and hook, N, any shape.
        falls: n, one whole number.
        sheave: eta, efficiency of one idle sheave, broadcast with load.

    Returns:
        Forces, N, broadcast shape with a last axis of length n.

    Raises:
        ValueError: load below 0, falls not whole, or efficiency not within 0 to 1.

    >>> print(fall_forces(20000, 2, 0.96).round(1))
    [10204.1  9795.9]

    References:
        Dubbel, Taschenbuch fuer den Maschinenbau (pulley blocks), from memory.
    """
    first = live_fall_force(load, falls, sheave)
    eta = share(sheave, "efficiency of a sheave")
    first, eta = np.broadcast_arrays(first, eta)
    return first[..., None] * eta[..., None] ** np.arange(int(falls))


def reeving_efficiency(falls: Num, sheave: Num = 1.0) -> Array:
    """Efficiency of the reeving alone while raising.

    eta_r = (1 + eta + ... + eta^(n-1)) / n

    Args:
        falls: n, whole, any shape.
        sheave: eta, efficiency of one idle sheave, broadcast.

    Returns:
        Efficiency, broadcast shape; 1 for a single fall.

    Raises:
        ValueError: falls not whole, or efficiency not within 0 to 1.

    >>> print(f"{reeving_efficiency(4, 0.96):.4f}")
    0.9416

    References:
        Dubbel, Taschenbuch fuer den Maschinenbau (pulley blocks), from memory.
    """
    n = whole(falls, "falls")
    return _fall_sum(n, share(sheave, "efficiency of a sheave")) / n


def chain_length(lift: Num, falls: Num, closed_fall: Num, on_sheaves: Num, tail: Num) -> Array:
    """Load chain that a lift needs, with the bottom hook at its lower limit.

    L = n (H + c) + s + t

    Args:
        lift: H, travel of the bottom hook between both limits, m, any shape.
        falls: n, whole, broadcast.
        closed_fall: c, mean length of a fall with the hook at its upper limit, m.
        on_sheaves: s, chain that lies on the load sheave and the idle sheaves, m.
        tail: t, slack end that must be left below the load sheave up to its anchor, m.

    Returns:
        Length, m, broadcast shape.

    Raises:
        ValueError: lift is not above 0, falls not whole, or a length below 0.

    >>> print(f"{chain_length(3.0, 2, 0.1, 0.15, 0.2):.2f}")
    6.55

    References:
        geometry.
    """
    n, H = whole(falls, "falls"), positive(lift, "lift, m")
    rest = not_negative(on_sheaves, "chain on sheaves, m") + not_negative(tail, "tail, m")
    return n * (H + not_negative(closed_fall, "closed fall, m")) + rest


def lift_possible(length: Num, falls: Num, closed_fall: Num, on_sheaves: Num, tail: Num) -> Array:
    """Lift that a length of load chain allows; the inverse of `chain_length`.

    H = (L - s - t) / n - c

    Args:
        length: L, load chain there is, m, any shape.
        falls: n, whole, broadcast.
        closed_fall: c, mean length of a fall with the hook at its upper limit, m.
        on_sheaves: s, chain that lies on the load sheave and the idle sheaves, m.
        tail: t, slack end that must be left, m.

    Returns:
        Lift, m, broadcast shape; below 0 when the chain does not even reach.

    Raises:
        ValueError: length is not above 0, falls not whole, or another length below 0.

    >>> print(f"{lift_possible(6.55, 2, 0.1, 0.15, 0.2):.2f}")
    3.00

    References:
        geometry.
    """
    rest = not_negative(on_sheaves, "chain on sheaves, m") + not_negative(tail, "tail, m")
    free = (positive(length, "chain length, m") - rest) / whole(falls, "falls")
    return free - not_negative(closed_fall, "closed fall, m")


def links_for(length: Num, p: Num, odd: bool = True) -> Array:
    """Links to cut for a length, odd so that both end links lie in one plane.

    n = ceil(L / p), plus 1 if even and odd is asked

    Args:
        length: length needed, m, any shape.
        p: pitch, m, broadcast.
        odd: whether both end links must lie in one plane.

    Returns:
        Count (whole numbers as floats), broadcast shape.

    Raises:
        ValueError: a length is not above 0.

    >>> print(links_for([6.55, 0.044], 0.015))
    [437.   3.]

    References:
        geometry; the odd number is common practice where the anchor takes a lying link
        as the first pocket does.
    """
    n: Array = np.ceil(positive(length, "length, m") / positive(p, "pitch p, m") - 1e-9)
    return n + (n % 2 == 0) if odd else n


def hand_chain_loop(drop: Num, wheel: Num) -> Array:
    """Endless hand chain for a loop that hangs down by a drop.

    L = 2 h + pi D / 2

    Args:
        drop: h, from the wheel centre down to the foot of the loop, m, any shape.
        wheel: D, effective diameter of the hand chain wheel, m, broadcast.

    Returns:
        Length of the whole loop, m, broadcast shape.

    Raises:
        ValueError: a length is not above 0.

    >>> print(f"{hand_chain_loop(2.5, 0.2):.3f}")
    5.314

    References:
        geometry; that the foot hangs about half a metre above the floor is common practice.
    """
    return 2 * positive(drop, "drop, m") + np.pi / 2 * positive(wheel, "hand wheel, m")


def _fall_sum(n: Array, q: Array) -> Array:
    """Sum of q^0 .. q^(n-1), exact also at q = 1."""
    n, q = np.broadcast_arrays(n, q)
    require(np.asarray(n <= 64), "falls: more than 64 given; no hoist is reeved so.")
    powers = np.arange(int(np.max(n, initial=1)))
    kept = powers < n[..., None]
    result: Array = np.sum(np.where(kept, q[..., None] ** powers, 0.0), axis=-1)
    return result
