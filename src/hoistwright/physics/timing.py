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
from itertools import product
from math import gcd

import attrs

Turn = Fraction
"""An angle as part of a turn."""


def _numbers(instance: object, attribute: attrs.Attribute[int], value: int) -> None:
    if not isinstance(value, int) or isinstance(value, bool) or value < 3:  # noqa: PLR2004
        raise ValueError(
            f"teeth {attribute.name}: given {value!r}; expected a whole number of at least 3."
        )


@attrs.frozen
class LayshaftTrain:
    """A pinion, layshafts at their angles with their key phases, and a load gear.

    `angles` and `phases` are fractions of a turn, one for each layshaft; phases default to
    all alike. Phases count as the angle from a tooth of z2 to a tooth of z3.
    """

    z1: int = attrs.field(validator=_numbers)
    z2: int = attrs.field(validator=_numbers)
    z3: int = attrs.field(validator=_numbers)
    z4: int = attrs.field(validator=_numbers)
    angles: tuple[Turn, ...]
    phases: tuple[Turn, ...] = attrs.field()
    internal: bool = False

    @phases.default
    def _all_alike(self) -> tuple[Turn, ...]:
        return (Fraction(0),) * len(self.angles)

    def __attrs_post_init__(self) -> None:
        """Refuse trains that cannot be: no layshaft, two at one place, phases missing."""
        if not self.angles:
            raise ValueError("angles: given none; expected the angle of each layshaft.")
        if len({angle % 1 for angle in self.angles}) != len(self.angles):
            raise ValueError("angles: two layshafts at one angle; expected different angles.")
        if len(self.phases) != len(self.angles):
            raise ValueError(
                f"phases: given {len(self.phases)} for {len(self.angles)} layshafts; "
                "expected one for each, or none when all are alike."
            )

    @property
    def ring(self) -> int:
        """z4 with the sign it has in the formulas: below 0 for an internal gear."""
        return -self.z4 if self.internal else self.z4


@attrs.frozen
class Position:
    """One way to put layshaft `layshaft` into the pinion.

    `turn` is its turn against layshaft 0 (part of a turn, from 0 to below 1), `error` what
    the load gear then misses, in tooth pitches from above -1/2 to 1/2.
    """

    layshaft: int
    step: int
    turn: Turn
    error: Fraction

    @property
    def shares(self) -> bool:
        """Whether the layshaft carries its share."""
        return self.error == 0


def equal_layshafts(
    z1: int, z2: int, z3: int, z4: int, count: int, internal: bool = False
) -> LayshaftTrain:
    """A train with `count` layshafts spaced evenly, all keyed alike.

    theta_j = j / N

    Args:
        z1: teeth of the pinion.
        z2: teeth of the large layshaft gear.
        z3: teeth of the small layshaft gear.
        z4: teeth of the load gear.
        count: N, layshafts.
        internal: whether the load gear is a ring with internal teeth.

    Returns:
        The train.

    Raises:
        ValueError: a tooth number or the count makes no gear train.

    >>> equal_layshafts(12, 40, 12, 36, 2).angles
    (Fraction(0, 1), Fraction(1, 2))

    References:
        geometry.
    """
    return LayshaftTrain(
        z1, z2, z3, z4, tuple(Fraction(j, count) for j in range(count)), internal=internal
    )


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
    [1, 11, 21, 31]

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


def marks_face_same_way(train: LayshaftTrain) -> bool:
    """Tell whether the train shares the load with all layshaft marks pointing one way.

    0 is among the turns of `sharing_turns` for every layshaft

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
    return all(0 in sharing_turns(train, j) for j in range(1, len(train.angles)))


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
    Fraction(-1, 962)

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
    if len(train.angles) > 4:  # noqa: PLR2004
        raise ValueError("layshafts: more than 4 given; hoists have two or three.")
    tables = [
        [place.error % 1 for place in positions(train, j)] for j in range(1, len(train.angles))
    ]
    sharing = deceptive = 0
    for errors in product(*tables):
        if not any(errors):
            sharing += 1
        elif _arc((Fraction(0), *errors)) <= backlash:
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


def _arc(parts: tuple[Fraction, ...]) -> Fraction:
    """Shortest arc of the unit circle that holds all parts."""
    ring = sorted(parts)
    gaps = [after - before for before, after in zip(ring, ring[1:], strict=False)]
    gaps.append(1 - (ring[-1] - ring[0]))
    return 1 - max(gaps)


def _known(train: LayshaftTrain, layshaft: int) -> None:
    if not 1 <= layshaft < len(train.angles):
        raise ValueError(_no_such(train, layshaft, 1))


def _no_such(train: LayshaftTrain, layshaft: int, low: int) -> str:
    last = len(train.angles) - 1
    return f"layshaft: given {layshaft}; expected {low} to {last} of this train."
