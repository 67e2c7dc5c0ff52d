"""The rules of each stage: what must be there before the next one is begun."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from hoistwright.examine.points import Point
from hoistwright.examine.taken import take
from hoistwright.hoist.feature import measure
from hoistwright.job.events import LookAnswered, PartChosen, ReadingEntered, StageName
from hoistwright.job.requirements_prove import prove
from hoistwright.job.requirements_quote import quote_answer
from hoistwright.job.requirements_release import release
from hoistwright.job.stages import Facts, Missing
from hoistwright.job.to_entries import entered_on, entries_of, strays
from hoistwright.job.to_release import identity_doubts
from hoistwright.metrology import Outcome, state_on

_MAY_SIGN = {"technician", "competent person"}


def book_in(facts: Facts) -> Iterator[Missing]:
    booked = facts.state.booked
    if booked is None:
        yield _say("book in", "booking", "The hoist is not booked in yet.")
        return
    hoist = booked.hoist
    if not (hoist.serial or hoist.tag):
        yield _say(
            "book in",
            "identity",
            "Neither a serial number nor a tag is entered: without one of them the hoist is not "
            "found again. Where the plate is illegible, give it a tag.",
        )
    if not booked.customer.name:
        yield _say("book in", "customer", "The customer's name is missing.")
    if not booked.found:
        yield _say(
            "book in", "found state", "Say how the hoist was found: the as-found function check."
        )
    if hoist.rated_load is None and facts.design is None:
        yield _say("book in", "rated load", "The rated load is not known: read the data plate.")
    if facts.design is None:
        yield _say(
            "book in", "design", "No design is chosen: choose one, or begin a design file for it."
        )
    if not facts.bases:
        yield _say("book in", "basis", "No basis is chosen to examine the hoist by.")


def strip(facts: Facts) -> Iterator[Missing]:
    done = facts.state.ticks("strip")
    if facts.strip is None:
        yield _no_design("strip")
        return
    for step in facts.strip.steps:
        if step.key not in done:
            yield _say("strip", "step", f"Not ticked: {step.name}", step.key)


def examine(facts: Facts) -> Iterator[Missing]:
    if facts.design is None:
        yield _no_design("examine")
        return
    yield from _points(facts, "examine", ("as received", "stripped"))
    yield from _gauges(facts)
    for sentence in identity_doubts(facts):
        yield _say("examine", "identity", sentence)
    for entry in strays(facts.state, facts.design):
        body = entry.event.body if entry.body is None else entry.body
        words = " ".join(word for word in body.topic if word)
        sentence = (
            f"Entry {entry.event.seq} ({words}) belongs to no point of the design "
            f"{facts.design.key}: correct or withdraw it."
        )
        yield _say("examine", "stray", sentence)
    for conflict in facts.state.conflicts:
        yield _say("examine", "conflict", conflict.sentence)


def renew(facts: Facts) -> Iterator[Missing]:
    examination = facts.examination
    if examination is None:
        yield _no_design("renew")
        return
    for part in examination.parts:
        sentence = _choice(facts, part.outcome, part.part, part.name)
        if sentence:
            yield _say("renew", "choice", sentence, part.part)
    for key in facts.renewed:
        if key not in facts.state.renewed and examination.design.part(key).renewal != "always":
            name = examination.design.part(key).name
            sentence = f"{name}: renewed together with a part already chosen. Choose it too."
            yield _say("renew", "choice", sentence, key)
    yield from quote_answer(facts)


def rebuild(facts: Facts) -> Iterator[Missing]:
    plan = facts.rebuild
    if plan is None:
        yield _no_design("rebuild")
        return
    done = facts.state.ticks("rebuild")
    for step in plan.steps:
        if step.key not in done:
            yield _say("rebuild", "step", f"Not ticked: {step.name}", step.key)
    yield from _hold_points(facts)
    yield from _points(facts, "rebuild", ("rebuilt",))


REQUIRED: Mapping[StageName, Callable[[Facts], Iterator[Missing]]] = {
    "book in": book_in,
    "strip": strip,
    "examine": examine,
    "renew": renew,
    "rebuild": rebuild,
    "prove": prove,
    "release": release,
}


def _say(stage: StageName, what: str, sentence: str, part: str = "") -> Missing:
    return Missing(stage=stage, what=what, sentence=sentence, address=(part, "", ""))


def _no_design(stage: StageName) -> Missing:
    return _say(stage, "design", "No design is chosen yet: this stage needs one.")


def _points(facts: Facts, stage: StageName, of: tuple[str, ...]) -> Iterator[Missing]:
    """Ruled points without an entry, or with one that cannot count."""
    assert facts.design is not None
    entries = entries_of(facts.state, facts.design, facts.shop)
    readings = {(r.part, r.feature, r.place): r for r in entries.readings}
    for point in facts.points:
        if point.stage not in of or point.reference or not point.rulings:
            continue
        if point.measured:
            why = take(readings.get(point.address), measure(point.feature), entries).missing
            what = "reading"
        else:
            why, what = _look(facts, point), "look"
        if not why and stage == "rebuild":
            why = _too_early(facts, point)
        if why:
            yield Missing(
                stage=stage,
                what=what,
                sentence=f"{_named(point)}: {why}.",
                address=point.address,
            )


def _look(facts: Facts, point: Point) -> str:
    entry = facts.state.looks.get(point.address)
    body = entry.body if entry else None
    answered = isinstance(body, LookAnswered) and body.answer != "not looked"
    return "" if answered else "not looked at"


def _too_early(facts: Facts, point: Point) -> str:
    """What is asked of the rebuilt hoist must be entered after its last step."""
    ticked = [entry.last.seq for entry in facts.state.ticks("rebuild").values()]
    entries = facts.state.readings if point.measured else facts.state.looks
    entry = entries.get(point.address)
    early = entry is not None and entry.last.seq < max(ticked, default=0)
    return "entered before the rebuild was done; look again" if early else ""


def _named(point: Point) -> str:
    return ", ".join(word for word in (point.part_name, point.name, point.place) if word)


def _gauges(facts: Facts) -> Iterator[Missing]:
    """A gauge must have been in date on the day of each reading, not only on the last day."""
    gauges = {gauge.key: gauge for gauge in facts.shop.all_gauges()}
    for address, entry in facts.state.readings.items():
        body = entry.body
        gauge = gauges.get(body.gauge) if isinstance(body, ReadingEntered) else None
        if gauge is None or facts.state.examined_on is not None:
            continue
        found = state_on(gauge, entered_on(entry))
        if not found.usable:
            yield Missing(
                stage="examine",
                what="gauge",
                sentence=f"{' '.join(address)}: {found.reason}. Read it again.",
                address=address,
            )


def _choice(facts: Facts, outcome: Outcome, part: str, name: str) -> str:
    """Findings on the whole hoist ask for no part: those on its parts do."""
    if part == "hoist" or outcome not in (Outcome.RENEW, Outcome.BORDERLINE):
        return ""
    entry = facts.state.choices.get(part)
    body = entry.body if entry else None
    if isinstance(body, PartChosen) and body.renew:
        return ""
    if outcome is Outcome.RENEW:
        return f"{name}: must be renewed. Choose it, or correct the finding it follows from."
    if entry is None or not isinstance(body, PartChosen):
        return f"{name}: borderline. Measure again, or decide to renew it or to leave it."
    if not body.reason or entry.last.by not in facts.shop.adopters():
        return f"{name}: borderline; only a competent person leaves it in, with a reason."
    return ""


def _hold_points(facts: Facts) -> Iterator[Missing]:
    plan = facts.rebuild
    for point in plan.hold_points if plan else ():
        entry = facts.state.signatures.get(point.step)
        if entry is None:
            yield _say("rebuild", "hold point", f"Not signed: {point.text}", point.step)
            continue
        person = facts.shop.person(entry.last.by)
        if person is None or not _MAY_SIGN & set(person.roles):
            sentence = f"Signed by {entry.last.by}, who may not sign hold points: {point.text}"
            yield _say("rebuild", "hold point", sentence, point.step)
