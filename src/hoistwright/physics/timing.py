"""Timing of layshafts: which tooth positions assemble and share the load. Exact.

Every angle is a `Fraction` of a turn. Layshaft j stands at angle theta_j round the axis of
pinion (z1) and load gear (z4); its large gear (z2) meshes the pinion, its small gear (z3)
the load gear; kappa_j is the angle from a tooth of z2 to a tooth of z3.

Derivation. A mesh is right when a tooth of the one gear faces a gap of the other on the
line of centres. Counting teeth past that line, pinion at angle a, layshaft j at b_j, load
gear at g (mod 1):

    z1 (a - theta_j) + z2 (b_j - theta_j - 1/2)            = 1/2
    z4 (g - theta_j) + z3 (b_j + kappa_j - theta_j - 1/2)  = 1/2

The first mesh leaves z2 positions k. Taking the equations of layshaft 0 from those of j,
with D = theta_j - theta_0, the turn of layshaft j against layshaft 0 and the tooth error
that is left at the load gear (in pitches of z4, mod 1) are

    b_j - b_0 = [(z1 + z2) D + k] / z2
    error_j   = [(z1 z3 - z2 z4) D + k z3] / z2 + z3 (kappa_j - kappa_0)

With equal phases and D = j/N an error of 0 exists for every j if and only if
(z1 z3 - z2 z4) / (N gcd(z2, z3)) is whole, and then for gcd(z2, z3) of the z2 positions.
For an internal load gear (z4 a ring) z4 changes its sign.

A position with a small error goes together inside the backlash and looks right, but one
layshaft carries everything: the teeth then see N times the load they were made for.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise, product
from math import gcd, lcm

import attrs

from hoistwright.physics.layshafts import LayshaftTrain, Position, Turn, equal_layshafts

__all__ = [
    "Count",
    "LayshaftTrain",
    "Position",
    "Turn",
    "angle_step",
    "assembles_evenly",
    "count_ways",
    "equal_layshafts",
    "mark_turns",
    "marks_face_same_way",
    "phase_needed",
    "positions",
    "replacement_fits",
    "sharing_turns",
]


def assembles_evenly(z1: int, z2: int, z3: int, z4: int, count: int) -> bool:
    """Tell whether N evenly spaced layshafts, all keyed alike, assemble and share the load.

    (z1 z3 - z2 z4) / (N gcd(z2, z3)) is whole; give z4 below 0 for an internal load gear

    Args:
        z1: teeth of the pinion.
        z2: teeth of the large layshaft gear.
        z3: teeth of the small layshaft gear.
        z4: teeth of the load gear, below 0 when internal.
        count: N, layshafts.

    Returns:
        Truth.

    Raises:
        ValueError: a count below 1 or a tooth number of 0.

    >>> assembles_evenly(12, 40, 12, 36, 2), assembles_evenly(11, 37, 13, 40, 2)
    (True, False)

    References:
        module docstring (own derivation); with z2 = z3 and z4 internal it is the assembly
        condition of planetary gears, Mueller, Epicyclic Drive Trains, from memory.
    """
    if count < 1 or 0 in (z1, z2, z3, z4):
        raise ValueError("layshafts and teeth: expected whole numbers other than 0.")
    return (z1 * z3 - z2 * z4) % (count * gcd(z2, z3)) == 0


def positions(train: LayshaftTrain, layshaft: int) -> tuple[Position, ...]:
    """All positions in which a layshaft goes into the pinion, with their tooth error.

    k = 0 .. z2 - 1 in the equations of the module docstring

    Args:
        train: the gear train.
        layshaft: which layshaft, from 1 (layshaft 0 is the one that all are held against).

    Returns:
        One position for each tooth of z2, in order of k.

    Raises:
        ValueError: there is no such layshaft.

    >>> train = equal_layshafts(12, 40, 12, 36, 2)
    >>> [place.step for place in positions(train, 1) if place.shares]
    [4, 14, 24, 34]

    References:
        module docstring (own derivation).
    """
    _known(train, layshaft)
    apart = train.angles[layshaft] - train.angles[0]
    fixed = (train.z1 * train.z3 - train.z2 * train.ring) * apart / train.z2
    fixed += train.z3 * (train.phases[layshaft] - train.phases[0])
    return tuple(
        Position(
            layshaft,
            k,
            ((train.z1 + train.z2) * apart + k) / train.z2 % 1,
            _centred(fixed + Fraction(k * train.z3, train.z2)),
        )
        for k in range(train.z2)
    )


def sharing_turns(train: LayshaftTrain, layshaft: int) -> tuple[Turn, ...]:
    """Turns of a layshaft's mark against the mark of layshaft 0 that share the load.

    b_j - b_0 of all positions with error 0, in turns, as seen from the same side

    Args:
        train: the gear train.
        layshaft: which layshaft, from 1.

    Returns:
        Turns from 0 to below 1, rising; empty if none shares. 0 means that both marks
        face the same way.

    Raises:
        ValueError: there is no such layshaft.

    >>> sharing_turns(equal_layshafts(12, 40, 12, 36, 2), 1)[0]
    Fraction(0, 1)

    References:
        module docstring (own derivation).
    """
    return tuple(sorted(place.turn for place in positions(train, layshaft) if place.shares))


def mark_turns(train: LayshaftTrain) -> tuple[Turn | None, ...]:
    """How each layshaft's mark must face, as its least turn against the mark of layshaft 0.

    for each layshaft the turn of `sharing_turns` nearest to 0, from above -1/2 to 1/2

    Args:
        train: the gear train.

    Returns:
        One turn for each layshaft, 0 for layshaft 0 and for marks that face its way; None
        where no position shares the load.

    Raises:
        ValueError: never for a train that could be made.

    >>> mark_turns(equal_layshafts(12, 41, 13, 42, 2))
    (Fraction(0, 1), Fraction(1, 2))

    References:
        module docstring (own derivation).
    """
    others = (
        min((_centred(turn) for turn in sharing_turns(train, j)), key=abs, default=None)
        for j in range(1, len(train.angles))
    )
    return (Fraction(0), *others)


def marks_face_same_way(train: LayshaftTrain) -> bool:
    """Tell whether the train shares the load with all layshaft marks pointing one way.

    all of `mark_turns` are 0

    Args:
        train: the gear train.

    Returns:
        Truth; true for a single layshaft.

    Raises:
        ValueError: never for a train that could be made.

    >>> marks_face_same_way(equal_layshafts(11, 37, 13, 40, 2))
    False

    References:
        module docstring (own derivation); marks facing the same way is common practice.
    """
    return not any(turn is None or turn for turn in mark_turns(train))


def phase_needed(train: LayshaftTrain, layshaft: int) -> Turn:
    """Least change of a layshaft's key phase with which it shares the load.

    delta kappa = -error / z3, for the position with the smallest error

    Args:
        train: the gear train.
        layshaft: which layshaft, from 1.

    Returns:
        Angle from a tooth of z2 to a tooth of z3, to be added, as part of a turn; 0 if it
        shares already. Two marks that far apart do it where all gears are alike.

    Raises:
        ValueError: there is no such layshaft.

    >>> phase_needed(equal_layshafts(11, 37, 13, 40, 2), 1)
    Fraction(1, 962)

    References:
        module docstring (own derivation).
    """
    best = min(positions(train, layshaft), key=lambda place: (abs(place.error), place.step))
    return -best.error / train.z3


def replacement_fits(train: LayshaftTrain, layshaft: int, phase: Turn) -> bool:
    """Tell whether a layshaft with another key phase can share the load in this train.

    error 0 exists with kappa_j = `phase` (kappa_0 for layshaft 0)

    Args:
        train: the gear train as it is.
        layshaft: which layshaft gets the other gear, from 0.
        phase: its angle from a tooth of z2 to a tooth of z3, part of a turn.

    Returns:
        Truth: whether every layshaft of the changed train shares in some position.

    Raises:
        ValueError: there is no such layshaft.

    >>> from fractions import Fraction
    >>> train = equal_layshafts(11, 37, 13, 40, 2)
    >>> replacement_fits(train, 1, phase_needed(train, 1)), replacement_fits(train, 1, Fraction(0))
    (True, False)

    References:
        module docstring (own derivation).
    """
    if not 0 <= layshaft < len(train.phases):
        raise ValueError(_no_such(train, layshaft, 0))
    changed = list(train.phases)
    changed[layshaft] = phase
    other = attrs.evolve(train, phases=tuple(changed))
    return all(sharing_turns(other, j) for j in range(1, len(other.angles)))


@attrs.frozen
class Count:
    """How many ways to put all layshafts in: all, sharing, looking right but wrong."""

    ways: int
    sharing: int
    deceptive: int


def count_ways(train: LayshaftTrain, backlash: Fraction) -> Count:
    """Count the ways to put the layshafts into the pinion, and those that deceive.

    A way deceives if the load gear still goes in: all tooth errors, that of layshaft 0
    (0) among them, lie within the backlash, but not all are 0.

    Args:
        train: the gear train, at most 4 layshafts.
        backlash: total backlash of a layshaft mesh at the load gear, in tooth pitches,
            from 0 to below 1.

    Returns:
        The counts, out of z2^(N-1) ways.

    Raises:
        ValueError: backlash out of range or more layshafts than can be counted.

    >>> from fractions import Fraction
    >>> count_ways(equal_layshafts(12, 40, 12, 36, 2), Fraction(1, 8))
    Count(ways=40, sharing=4, deceptive=8)

    References:
        module docstring (own derivation).
    """
    if not 0 <= backlash < 1:
        raise ValueError(f"backlash: given {backlash}; expected pitches from 0 to below 1.")
    if len(train.angles) > 4:
        raise ValueError("layshafts: more than 4 given; hoists have two or three.")
    tables = [
        [place.error % 1 for place in positions(train, j)] for j in range(1, len(train.angles))
    ]
    # whole numbers of one fine unit: thousands of ways are compared, all exact
    unit = lcm(*(error.denominator for table in tables for error in table))
    allowed = backlash * unit
    sharing = deceptive = 0
    for errors in product(*([int(error * unit) for error in table] for table in tables)):
        if not any(errors):
            sharing += 1
        elif _arc((0, *errors), unit) <= allowed:
            deceptive += 1
    return Count(train.z2 ** (len(train.angles) - 1), sharing, deceptive)


def angle_step(train: LayshaftTrain) -> Turn:
    """Smallest step of place round the pinion at which a further like layshaft fits.

    step = gcd(z2, z3) / |z1 z3 - z2 z4|; every whole multiple of it works

    Args:
        train: the gear train; its key phases do not matter here.

    Returns:
        Step as part of a turn; 1 when any angle fits (z1 z3 = z2 z4).

    Raises:
        ValueError: never for a train that could be made.

    >>> angle_step(equal_layshafts(12, 40, 12, 36, 2))
    Fraction(1, 324)

    References:
        module docstring (own derivation); 1 / (z1 + z4) for simple planetary gears.
    """
    difference = abs(train.z1 * train.z3 - train.z2 * train.ring)
    return Fraction(gcd(train.z2, train.z3), difference) if difference else Fraction(1)


def _centred(value: Fraction) -> Fraction:
    part = value % 1
    return part - 1 if part > Fraction(1, 2) else part


def _arc(places: tuple[int, ...], round_once: int) -> int:
    """Shortest arc that holds all places of a circle of length `round_once`."""
    ring = sorted(places)
    gaps = [after - before for before, after in pairwise(ring)]
    gaps.append(round_once - (ring[-1] - ring[0]))
    return round_once - max(gaps)


def _known(train: LayshaftTrain, layshaft: int) -> None:
    if not 1 <= layshaft < len(train.angles):
        raise ValueError(_no_such(train, layshaft, 1))


def _no_such(train: LayshaftTrain, layshaft: int, low: int) -> str:
    last = len(train.angles) - 1
    return f"layshaft: given {layshaft}; expected {low} to {last} of this train."
