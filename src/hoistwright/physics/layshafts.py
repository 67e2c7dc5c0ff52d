"""A train of pinion, layshafts and load gear, described for its timing (see `timing`)."""

from __future__ import annotations

from fractions import Fraction

import attrs

Turn = Fraction
"""An angle as part of a turn."""


def _numbers(instance: object, attribute: attrs.Attribute[int], value: int) -> None:
    if not isinstance(value, int) or isinstance(value, bool) or value < 3:
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
