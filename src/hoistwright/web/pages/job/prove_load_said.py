"""The test load that somebody chooses, and the tests that a competent person settles."""

from __future__ import annotations

import attrs

from hoistwright.job.events import Body
from hoistwright.job.events_prove import Hung, TestLoadChosen, TestSettled
from hoistwright.job.shop import TestWeight
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.tests_needed import STATED
from hoistwright.quantity import Dimension, QuantityError, parse
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.question import Question, ask

MOST_LOAD = 2.0
"""No load test of ours asks for more than so many times the rated load."""


@attrs.frozen(kw_only=True)
class Where:
    """Slings and frame on the hook, and what floor, frame and hands can carry. kg."""

    tackle: float = 0.0
    tackle_spread: float = 0.0
    floor: float | None = None
    frame: float | None = None
    piece: float | None = None


def where_of(case: Case) -> Where | Question:
    """What the form, or the address, says of the place of the test."""
    found: dict[str, float] = {}
    for name in ("tackle", "tackle_spread", "floor", "frame", "piece"):
        typed = case.visit.field(name) or case.visit.query(name)
        if not typed:
            continue
        value = mass_said(case, typed)
        if isinstance(value, str):
            return ask(name, value)
        found[name] = value
    return Where(**found)


def mark_of(case: Case, typed: str) -> str | None:
    """The decimal mark: a point alone always is one, as instruments write it."""
    if "." in typed and "," not in typed:
        return "."
    return "," if case.visit.language.decimal == "," and "." not in typed else None


def mass_said(case: Case, typed: str) -> float | str:
    """A mass that somebody typed, kg; or what is wrong with it."""
    unit = "lb" if case.visit.units == "in" else "kg"
    try:
        value = parse(typed, Dimension.MASS, unit=unit, decimal=mark_of(case, typed)).si
    except QuantityError as error:
        return str(error)
    return value if value >= 0 else case.visit.say("Zero or more is expected here.")


def test_load_said(case: Case) -> Body | Question:
    """Weights with their tackle, or a test bed."""
    where = where_of(case)
    if isinstance(where, Question):
        return where
    if case.visit.field("way") == "test bed":
        return _bed(case, where)
    hung = []
    for weight in case.shop.test_weights:
        count = _count(case, weight)
        if isinstance(count, Question):
            return count
        if count:
            hung.append(_hung(weight, count))
    if not hung:
        return ask("weights", case.visit.say("Say how many of which weights hang on the hook."))
    return TestLoadChosen(
        by="weights",
        hung=tuple(hung),
        tackle=where.tackle,
        tackle_uncertainty=where.tackle_spread,
        floor=where.floor,
        frame=where.frame,
        piece=where.piece,
    )


def _hung(weight: TestWeight, count: int) -> Hung:
    """With mass, U and due day as they are now: a later calibration changes nothing of it."""
    return Hung(
        weight=weight.key,
        count=count,
        mass=float(weight.mass),
        uncertainty=float(weight.uncertainty),
        due_on=weight.due_on,
    )


def _count(case: Case, weight: TestWeight) -> int | Question:
    typed = case.visit.field(f"count-{weight.key}")
    if not typed:
        return 0
    if not typed.isascii() or not typed.isdigit() or int(typed) > weight.count:
        words = case.visit.say("Of %(weight)s the shop has %(count)s.", weight=weight.key,
                               count=weight.count)  # fmt: skip
        return ask("weights", words)
    return int(typed)


def _bed(case: Case, where: Where) -> Body | Question:
    visit = case.visit
    gauges = {g.key for g in case.shop.all_gauges() if g.measures is Dimension.FORCE}
    gauge = visit.field("gauge")
    if gauge not in gauges:
        return ask("gauge", visit.say("Choose the load cell of the test bed."))
    typed = visit.field("bed_reading")
    unit = "lbf" if visit.units == "in" else "kN"
    try:
        mark = mark_of(case, typed)
        force = parse(typed, Dimension.FORCE, unit=unit, decimal=mark).si if typed else 0.0
    except QuantityError as error:
        return ask("bed_reading", f"{error}")
    if not force > 0:
        return ask("bed_reading", visit.say("Say what the bed's instrument is to show."))
    return TestLoadChosen(
        by="test bed", bed_reading=force / STANDARD_GRAVITY, gauge=gauge, frame=where.frame
    )


def settle_said(case: Case) -> Body | Question:
    """Whether a test applies, or which load a competent person asks for."""
    visit = case.visit
    if visit.person.key not in case.shop.adopters():
        return ask("test", visit.say("Only a competent person of the shop settles this."))
    reason = visit.field("reason")[:2000]
    if not reason:
        return ask("reason", visit.say("Say why: the certificate leans on it."))
    basis, test = visit.field("basis"), visit.field("test")
    applies = visit.field("applies") != "no"
    if not basis:
        return _stated(case, reason)
    proof = case.facts.proof
    asked = proof.needed.asked if proof else ()
    if not any((one.basis, one.name) == (basis, test) for one in asked):
        return ask("test", visit.say("The bases of this job have no such test."))
    return TestSettled(basis=basis, test=test, applies=applies, reason=reason)


def _stated(case: Case, reason: str) -> Body | Question:
    shares = []
    for name in ("load_from", "load_to"):
        share = _share(case, name)
        if isinstance(share, Question):
            return share
        shares.append(share)
    if not 0 < shares[0] <= shares[1] <= MOST_LOAD:
        words = case.visit.say("From above 0 to 200 % of the rated load, the least first.")
        return ask("load_from", words)
    return TestSettled(basis="", test=STATED, applies=True, reason=reason, load_from=shares[0],
                       load_to=shares[1])  # fmt: skip


def _share(case: Case, name: str) -> float | Question:
    typed = case.visit.field(name)
    try:
        return parse(typed, Dimension.RATIO, unit="%", decimal=mark_of(case, typed)).si
    except QuantityError as error:
        return ask(name, f"{error}")
