"""Timing marks: do the layshafts assemble so that they share the load, and how?"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from hoistwright.check import mechanism
from hoistwright.check.facts import Fact, constant, derive
from hoistwright.check.model import Finding, Remark
from hoistwright.check.practice import limit
from hoistwright.check.rows import Row, findings
from hoistwright.hoist.design import Design
from hoistwright.physics.timing import (
    LayshaftTrain,
    count_ways,
    equal_layshafts,
    phase_needed,
    sharing_turns,
)
from hoistwright.quantity import Dimension

MOST_LAYSHAFTS = 4
POSITIONS = Row(
    key="timing_positions",
    name="layshaft positions that share the load",
    dimension=Dimension.COUNT,
    unit="",
    how="of all z2 positions of a layshaft in the pinion, those without tooth error",
    source="assembly condition of evenly spaced layshafts; proved by tooth geometry in the tests",
)
DECEPTIVE = Row(
    key="timing_deceptive",
    name="wrong layshaft positions that still go together",
    dimension=Dimension.COUNT,
    unit="",
    how="positions whose tooth error the backlash hides: one layshaft then carries everything",
    source="tooth geometry; backlash by common practice",
)
MOST_WAYS = 20_000
"""More ways than this (three and four layshafts) are not counted."""
_HOW = "(z1 z3 - z2 z4) / (layshafts · gcd(z2, z3)) whole, or the phase that makes up for it"


def timing_findings(design: Design) -> Iterator[Finding]:
    """Whether the marks assemble, and in how many positions."""
    layshafts = design.gear_train.layshafts
    if layshafts == 1:
        return
    known = derive(lambda *values: 0.0, *_counted(design))
    if not known.known:
        yield from findings(POSITIONS, known)
        yield from findings(DECEPTIVE, known)
    else:
        yield from _of_train(design)


def _counted(design: Design) -> tuple[Fact, ...]:
    number = design.gear_train.layshafts
    lacking = Fact(lacking=("gear_train.layshafts",)) if number is None else constant(number)
    return (*mechanism.teeth(design), lacking)


def _of_train(design: Design) -> Iterator[Finding]:
    try:
        train = train_of(design)
        turns = [sharing_turns(train, j) for j in range(1, len(train.angles))]
    except ValueError as error:
        yield Remark(
            severity="wrong", key="gear_train", read=str(error), expected="a train with timing"
        )
        return
    yield from findings(POSITIONS, constant(min(len(found) for found in turns)))
    yield from _deceptive(train)
    if not all(turns):
        yield _cannot_assemble(design, train)
    elif not all(Fraction(0) in found for found in turns):
        yield _marks_apart(turns)


def _deceptive(train: LayshaftTrain) -> Iterator[Finding]:
    """Ways to put the layshafts in that go together and are wrong."""
    if train.z2 ** (len(train.angles) - 1) > MOST_WAYS or len(train.angles) < 2:
        return
    backlash = Fraction(limit("backlash in tooth pitches")).limit_denominator(1000)
    yield from findings(DECEPTIVE, constant(count_ways(train, backlash).deceptive))


def train_of(design: Design) -> LayshaftTrain:
    """The design's layshaft train, with its mark phase on the last layshaft.

    Raises:
        ValueError: a count is missing or no gear train can have it.
    """
    gears = design.gear_train
    teeth = (
        gears.pinion_teeth,
        gears.layshaft_large_teeth,
        gears.layshaft_small_teeth,
        gears.load_gear_teeth,
    )
    number = gears.layshafts
    if number is None or None in teeth:
        raise ValueError("gear_train: a tooth count or the number of layshafts is missing")
    if not 1 <= number <= MOST_LAYSHAFTS:
        raise ValueError(f"layshafts: given {number}; expected 1 to {MOST_LAYSHAFTS}")
    z1, z2, z3, z4 = (int(z) for z in teeth if z is not None)
    even = equal_layshafts(z1, z2, z3, z4, number)
    phase = Fraction(gears.mark_phase or 0.0).limit_denominator(1000) / z3
    phases = (*(Fraction(0) for _ in range(number - 1)), phase if number > 1 else Fraction(0))
    return LayshaftTrain(z1, z2, z3, z4, even.angles, phases)


def _cannot_assemble(design: Design, train: LayshaftTrain) -> Remark:
    even = equal_layshafts(train.z1, train.z2, train.z3, train.z4, len(train.angles))
    last = len(train.angles) - 1
    needed = float(phase_needed(even, last) * train.z3 % 1)
    stated = design.gear_train.mark_phase or 0.0
    return Remark(
        severity="wrong",
        key="gear_train.mark_phase",
        read=f"layshafts that cannot share the load at a mark phase of {stated:g}",
        expected=f"{_HOW}; here a phase of {needed:.3g} tooth pitches",
        mend="Count the teeth again; where the layshafts are keyed apart, state mark_phase.",
    )


def _marks_apart(turns: list[tuple[Fraction, ...]]) -> Remark:
    told = "; ".join(", ".join(str(turn) for turn in found[:4]) for found in turns)
    return Remark(
        severity="doubtful",
        key="gear_train",
        read="marks that do not face the same way when the layshafts share the load",
        expected="0 among the turns of one layshaft against the other",
        mend=f"They share the load turned by {told} of a turn: mark the gears so.",
    )
