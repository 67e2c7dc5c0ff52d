"""`hoistwright marks`: how the timing marks of the layshaft gears must face."""

from __future__ import annotations

import argparse
from fractions import Fraction

from hoistwright.cli.exits import ALL_FIT, NOT_ALL_FIT
from hoistwright.cli.show import console, plain
from hoistwright.cli.typed import part_of_one


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("design", metavar="DESIGN", help="a design's key, or a design file")
    parser.add_argument(
        "--backlash",
        type=part_of_one,
        metavar="PART",
        help="backlash of a layshaft at the load gear in parts of a tooth pitch, 0 to below 1 "
        "(if not given, what the design check takes by common practice)",
    )
    parser.add_argument(
        "--replacement",
        type=part_of_one,
        metavar="PART",
        help="would a layshaft gear fit whose small teeth stand this part of a tooth pitch off?",
    )


def run(args: argparse.Namespace) -> int:
    from hoistwright.check.practice import limit
    from hoistwright.check.timing import train_of
    from hoistwright.faults import Fault, FaultsError, Place
    from hoistwright.hoist.library import find_design
    from hoistwright.physics.timing import count_ways, mark_turns, marks_face_same_way

    design, out = find_design(args.design), console()
    try:
        train = train_of(design)
        backlash = args.backlash
        if backlash is None:
            backlash = Fraction(str(limit("backlash in tooth pitches")))
        count = count_ways(train, backlash)
        turns = mark_turns(train)
    except ValueError as error:
        expected = "a gear train with all tooth counts, and a backlash from 0 to below 1"
        raise FaultsError([Fault(Place(key=design.key), str(error), expected)]) from None
    z = f"{train.z1} → {train.z2}/{train.z3} → {train.z4}"
    out.print(plain(f"{design.key}: {len(train.angles)} layshafts, teeth {z}"))
    if None in turns:
        out.print("No position shares the load: the gears do not belong together.")
        return NOT_ALL_FIT
    if marks_face_same_way(train):
        out.print("The marks of all layshaft gears face the same way.")
    else:
        told = ", ".join(f"layshaft {n}: {turn} of a turn" for n, turn in enumerate(turns, 1))
        out.print(f"The marks do not face the same way. Against the first: {told}.")
    out.print(
        f"{count.ways} ways to put them in: {count.sharing} share the load, {count.deceptive} look "
        "right (the load gear still goes on) but leave the load on one layshaft."
    )
    if args.replacement is not None:
        return _replacement(args, train.z3, _fits(train, args.replacement))
    return ALL_FIT


def _fits(train: object, part: Fraction) -> bool:
    from hoistwright.physics.timing import LayshaftTrain, replacement_fits

    assert isinstance(train, LayshaftTrain)
    return replacement_fits(train, len(train.angles) - 1, part / train.z3)


def _replacement(args: argparse.Namespace, z3: int, fits: bool) -> int:
    word = "fits" if fits else "does not fit: the layshafts would not share the load"
    console().print(
        f"A layshaft gear with its {z3} small teeth {args.replacement} of a tooth pitch off {word}."
    )
    return ALL_FIT if fits else NOT_ALL_FIT
