"""Layshaft timing against real teeth.

Independent route: no phase equations. Every gear is a list of tooth angles, exact
fractions of a turn. A mesh is tried by rolling both tooth lists over the line of centres
as arc lengths and seeing whether each tooth of one falls in the middle of a gap of the
other. Layshafts are turned through all places where they go into the pinion, found by
trial, and the load gear through all places where it goes on to layshaft 0.
"""

from __future__ import annotations

import random
from fractions import Fraction
from functools import lru_cache

import pytest

from hoistwright.physics.timing import (
    LayshaftTrain,
    angle_step,
    assembles_evenly,
    count_ways,
    equal_layshafts,
    mark_turns,
    marks_face_same_way,
    phase_needed,
    positions,
    replacement_fits,
    sharing_turns,
)

HALF = Fraction(1, 2)


@lru_cache(maxsize=200_000)
def teeth_past_line(z: int, turned: Fraction, line: Fraction) -> frozenset[Fraction]:
    """Arc from the line of centres to each tooth, in pitches, as far as half way round."""
    arcs = set()
    for tooth in range(z):
        away = (turned + Fraction(tooth, z) - line) % 1
        away = away - 1 if away > HALF else away
        arcs.add(away * z)  # a pitch is 1/z of a turn
    return frozenset(arcs)


def meshes(z_a: int, turn_a: Fraction, z_b: int, turn_b: Fraction, line: Fraction) -> bool:
    """External mesh: seen from a, gear b lies in direction `line`; seen from b, opposite.

    Teeth of b move past the line the other way round, hence the sign of their arcs. The
    gears mesh when the tooth of a nearest the line has gaps of b at its place: teeth of b
    half a pitch to either side.
    """
    of_a = teeth_past_line(z_a, turn_a, line)
    of_b = {-arc for arc in teeth_past_line(z_b, turn_b, line + HALF)}
    near = min(of_a, key=abs)
    return near + HALF in of_b or near - HALF in of_b


def meshes_inside(z_ring: int, ring: Fraction, z_b: int, turn_b: Fraction, line: Fraction) -> bool:
    """Internal mesh: ring and gear lie on one side and their teeth move alike."""
    of_b = teeth_past_line(z_b, turn_b, line)
    near = min(teeth_past_line(z_ring, ring, line), key=abs)
    return near + HALF in of_b or near - HALF in of_b


def goes_on(train: LayshaftTrain, j: int, turn: Fraction, load_gear: Fraction) -> bool:
    small = turn + train.phases[j]
    if train.internal:
        return meshes_inside(train.z4, load_gear, train.z3, small, train.angles[j])
    return meshes(train.z4, load_gear, train.z3, small, train.angles[j])


def turns_into_pinion(train: LayshaftTrain, j: int) -> list[Fraction]:
    """All turns of layshaft j that mesh the pinion at turn 0, by trial on a fine grid."""
    fine = 2 * train.z2 * train.angles[j].denominator
    hit = [
        Fraction(n, fine)
        for n in range(2 * train.angles[j].denominator)
        if meshes(train.z1, Fraction(0), train.z2, Fraction(n, fine), train.angles[j])
    ]
    assert len(hit) == 1, "one place within a pitch"
    return [(hit[0] + Fraction(k, train.z2)) % 1 for k in range(train.z2)]


def load_gear_turn(train: LayshaftTrain, turn: Fraction) -> Fraction:
    """A turn of the load gear at which it goes on to layshaft 0 (angle 0), by trial."""
    fine = 2 * train.z4 * train.z2 * train.phases[0].denominator
    for n in range(2 * train.z2 * train.phases[0].denominator):
        if goes_on(train, 0, turn, Fraction(n, fine)):
            return Fraction(n, fine)
    raise AssertionError("the load gear goes on to a single layshaft somewhere")


def sharing_by_teeth(train: LayshaftTrain, j: int) -> list[Fraction]:
    """Turns of layshaft j against layshaft 0 that share the load, by trial of real teeth."""
    first = turns_into_pinion(train, 0)[0]
    load_gear = load_gear_turn(train, first)
    return sorted(
        (turn - first) % 1
        for turn in turns_into_pinion(train, j)
        if goes_on(train, j, turn, load_gear)
    )


def random_train(draw: random.Random) -> LayshaftTrain:
    count = draw.choice((2, 3))
    z1, z2 = draw.randint(5, 9), draw.randint(8, 18)
    z3, z4 = draw.randint(5, 9), draw.randint(8, 18)
    return equal_layshafts(z1, z2, z3, z4, count, internal=draw.random() < 0.3)


def test_which_rotations_share_the_load_in_thousands_of_random_trains() -> None:
    draw = random.Random(7)
    good = 0
    for _ in range(2500):
        train = random_train(draw)
        for j in range(1, len(train.angles)):
            found = sharing_by_teeth(train, j)
            assert list(sharing_turns(train, j)) == found, train
            good += bool(found)
    assert good > 500, "enough trains that do assemble"


def test_with_unequal_angles_and_key_phases() -> None:
    draw = random.Random(8)
    for _ in range(600):
        z1, z2, z3, z4 = (draw.randint(5, 12) for _ in range(4))
        angles = (Fraction(0), Fraction(draw.randint(1, 11), 12))
        phases = (Fraction(0), Fraction(draw.randint(0, 2 * z3), 2 * z3))
        train = LayshaftTrain(z1, z2, z3, z4, angles, phases)
        assert list(sharing_turns(train, 1)) == sharing_by_teeth(train, 1), train


def test_short_condition_agrees_with_the_enumeration() -> None:
    draw = random.Random(9)
    for _ in range(1500):
        train = random_train(draw)
        by_rule = assembles_evenly(train.z1, train.z2, train.z3, train.ring, len(train.angles))
        by_list = all(sharing_turns(train, j) for j in range(1, len(train.angles)))
        assert by_rule == by_list, train


def test_the_phase_needed_makes_real_teeth_share() -> None:
    draw = random.Random(10)
    for _ in range(200):
        train = random_train(draw)
        need = phase_needed(train, 1)
        mended = LayshaftTrain(
            *_teeth(train), train.angles[:2], (Fraction(0), need), internal=train.internal
        )
        assert sharing_by_teeth(mended, 1), train
        assert replacement_fits(mended, 1, need)
        assert abs(need) <= Fraction(1, 2 * train.z3), "never more than half a tooth"


def test_same_change_on_all_layshafts_changes_nothing() -> None:
    for extra in (Fraction(1, 7), Fraction(3, 100)):
        plain = equal_layshafts(12, 40, 12, 36, 2)
        moved = LayshaftTrain(12, 40, 12, 36, plain.angles, (extra, extra))
        assert sharing_turns(moved, 1) == sharing_turns(plain, 1)


def test_one_odd_replacement_gear_spoils_the_sharing() -> None:
    train = equal_layshafts(12, 40, 12, 36, 2)
    assert replacement_fits(train, 1, Fraction(0))
    assert replacement_fits(train, 1, Fraction(1, 12)), "a whole tooth of z3 on"
    assert replacement_fits(train, 1, Fraction(1, 40)), "a whole tooth of z2 on"
    # positions of z2 shift the error by tenths of a pitch: half a tooth is five of them
    assert replacement_fits(train, 1, Fraction(1, 24)), "half a tooth of z3 on"
    assert not replacement_fits(train, 1, Fraction(1, 48)), "a quarter of a tooth of z3 on"
    assert not replacement_fits(train, 0, Fraction(1, 48)), "whichever layshaft it is"


def test_marks_that_face_the_same_way() -> None:
    """Two layshafts moved parallel: half a turn must be whole teeth in both meshes."""
    assert marks_face_same_way(equal_layshafts(12, 40, 12, 36, 2))
    assert not marks_face_same_way(equal_layshafts(11, 40, 12, 36, 2)), "z1 + z2 odd"


def test_mark_turns_are_the_least_that_share() -> None:
    """12/41/13/42: z1 + z2 is odd, so the marks cannot be parallel; half a turn apart (both
    towards the pinion, or both away from it) they can: real teeth confirm it."""
    train = equal_layshafts(12, 41, 13, 42, 2)
    first, second = mark_turns(train)
    assert first == 0 and second is not None
    assert second % 1 in sharing_by_teeth(train, 1)
    assert abs(second) == min(min(turn, 1 - turn) for turn in sharing_by_teeth(train, 1))
    assert second == Fraction(1, 2)
    assert mark_turns(equal_layshafts(11, 37, 13, 40, 2))[1] is None


def test_counts_of_deceptive_ways_by_hand() -> None:
    """z2 = 40, z3 = 12: errors step by gcd 4/40 of a pitch, each met 4 times; within an
    eighth of a pitch lie -1/10, 0, 1/10, so 8 of 40 look right and are wrong."""
    ways = count_ways(equal_layshafts(12, 40, 12, 36, 2), Fraction(1, 8))
    assert (ways.ways, ways.sharing, ways.deceptive) == (40, 4, 8)
    none = count_ways(equal_layshafts(12, 40, 12, 36, 2), Fraction(0))
    assert (none.sharing, none.deceptive) == (4, 0)


def test_three_layshafts_deceive_only_within_one_backlash_of_each_other() -> None:
    train = equal_layshafts(9, 12, 6, 15, 3)
    ways = count_ways(train, Fraction(2, 5))
    brute = 0
    for a in positions(train, 1):
        for b in positions(train, 2):
            spread = {Fraction(0), a.error % 1, b.error % 1}
            starts = spread
            fits = any(all((x - s) % 1 <= Fraction(2, 5) for x in spread) for s in starts)
            brute += fits and not (a.shares and b.shares)
    assert ways.deceptive == brute


def test_every_multiple_of_the_angle_step_takes_a_layshaft() -> None:
    train = equal_layshafts(11, 37, 13, 40, 2)
    step = angle_step(train)
    for n in (1, 2, 5):
        placed = LayshaftTrain(11, 37, 13, 40, (Fraction(0), n * step))
        assert sharing_turns(placed, 1)
    off = LayshaftTrain(11, 37, 13, 40, (Fraction(0), step / 2))
    assert not sharing_turns(off, 1)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: LayshaftTrain(2, 40, 12, 36, (Fraction(0),)), "teeth z1: given 2"),
        (lambda: LayshaftTrain(12, 40, 12, 36, ()), "angles: given none"),
        (lambda: LayshaftTrain(12, 40, 12, 36, (Fraction(0), Fraction(1))), "at one angle"),
        (
            lambda: LayshaftTrain(12, 40, 12, 36, (Fraction(0),), (Fraction(0), Fraction(0))),
            "phases: given 2 for 1",
        ),
        (lambda: positions(equal_layshafts(12, 40, 12, 36, 2), 2), "expected 1 to 1"),
        (
            lambda: replacement_fits(equal_layshafts(12, 40, 12, 36, 2), 5, Fraction(0)),
            "expected 0 to 1",
        ),
        (lambda: count_ways(equal_layshafts(12, 40, 12, 36, 2), Fraction(2)), "backlash"),
        (lambda: count_ways(equal_layshafts(12, 40, 12, 36, 5), Fraction(0)), "more than 4"),
        (lambda: assembles_evenly(12, 40, 12, 36, 0), "layshafts and teeth"),
    ],
)
def test_what_no_train_can_be_is_refused(make: object, words: str) -> None:
    assert callable(make)
    with pytest.raises(ValueError, match=words):
        make()


def _teeth(train: LayshaftTrain) -> tuple[int, int, int, int]:
    return train.z1, train.z2, train.z3, train.z4
