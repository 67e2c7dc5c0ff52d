"""What somebody entered on a page, as an event; or the question that it raises."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping

import attrs

from hoistwright.job.entry import Draft, new_id
from hoistwright.job.events import (
    BasesChosen,
    Body,
    Corrected,
    DesignChosen,
    ExaminedOn,
    ExtentChosen,
    GivenTo,
    HoldPointSigned,
    LookAnswered,
    PartChosen,
    ReadingEntered,
    Remarked,
    StageFinished,
    StageReopened,
    StepTicked,
)
from hoistwright.job.events_release import CertificateIssued, CertificateWithdrawn
from hoistwright.job.state import STAGES, JobState
from hoistwright.web.bases import basis_keys
from hoistwright.web.designs import design_named
from hoistwright.web.pages.job.booking_said import booking_said
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.prove_said import MAKERS as PROVE_MAKERS
from hoistwright.web.pages.job.prove_words import SPOKEN
from hoistwright.web.pages.job.question import Question, ask
from hoistwright.web.pages.job.readings import reading_said
from hoistwright.web.pages.job.undo import undo_said
from hoistwright.web.visit import Visit

LONGEST = 2000
MOST_TRACE = 120
"""Characters of a part's number, batch or certificate."""
_AHEAD, _BEHIND = datetime.timedelta(minutes=10), datetime.timedelta(days=60)


def draft_of(case: Case) -> Draft | Question:
    """The event that the form of this visit tells; or what must be asked back."""
    visit = case.visit
    what = visit.field("do")
    make = _MAKERS.get(what)
    if make is None:
        return ask("do", visit.say("This page does not know what to do with that. Load it again."))
    found = make(case)
    if isinstance(found, Question):
        return found
    return Draft(
        id=visit.field("id") or new_id(),
        by=visit.person.key,
        body=found,
        told_at=_told_at(visit),
        seen=seen(visit),
    )


def seen(visit: Visit) -> int | None:
    """The last entry of the job that stood on the page; None where the page does not say."""
    text = visit.field("seen")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else None


def _told_at(visit: Visit) -> datetime.datetime | None:
    """The tablet's own time, unless its clock is plainly wrong."""
    try:
        told = datetime.datetime.fromisoformat(visit.field("told_at"))
    except ValueError:
        return None
    if told.tzinfo is None or not visit.now - _BEHIND <= told <= visit.now + _AHEAD:
        return None
    return told


def text(visit: Visit, name: str) -> str:
    return visit.field(name)[:LONGEST]


# one function for each thing that can be said


def _look(case: Case) -> Body | Question:
    visit = case.visit
    address = visit.field("part"), visit.field("feature"), visit.field("place")
    answer = visit.field("answer")
    point = next((p for p in case.points if p.address == address and not p.measured), None)
    if point is None:
        return ask("answer", visit.say("The design has no such look. Load the page again."))
    before = case.state.looks.get(address)
    said = before.body if before else None
    old = said if isinstance(said, LookAnswered) else None
    if not answer and old is not None:
        answer = old.answer
    if answer not in ("in order", "defect", "not looked"):
        return ask("answer", visit.say("Choose one of the three answers."))
    return LookAnswered(
        part=address[0],
        feature=address[1],
        place=address[2],
        answer=answer,  # type: ignore[arg-type]
        remark=text(visit, "remark") if "remark" in visit.form else (old.remark if old else ""),
        photo=old.photo if old else "",
    )


def _tick(case: Case) -> Body | Question:
    visit = case.visit
    way, step = visit.field("way"), visit.field("step")
    plan = case.facts.strip if way == "strip" else case.facts.rebuild
    if plan is None or step not in {item.key for item in plan.steps}:
        return ask("step", visit.say("The plan has no such step any more. Load the page again."))
    return StepTicked(
        way="strip" if way == "strip" else "rebuild",
        step=step,
        done=visit.field("done") != "no",
    )


def _sign(case: Case) -> Body | Question:
    visit = case.visit
    plan = case.facts.rebuild
    points = {point.step: point for point in plan.hold_points} if plan else {}
    point = points.get(visit.field("step"))
    if point is None:
        return ask("step", visit.say("The plan has no such hold point any more."))
    if visit.field("name") != visit.person.key:
        return ask(
            "name",
            visit.say(
                "%(name)s is at this tablet. Whoever signs takes the tablet over first.",
                name=visit.person.name,
            ),
        )
    if point.step not in case.state.ticks("rebuild"):
        return ask("step", visit.say("Tick the step first: a hold point is signed on work done."))
    return HoldPointSigned(step=point.step, text=point.text)


def _choose(case: Case) -> Body | Question:
    visit = case.visit
    part = visit.field("part")
    if case.design is None or part not in {item.key for item in case.design.parts}:
        return ask("part", visit.say("The design has no such part. Load the page again."))
    renew = visit.field("renew") != "no"
    reason = text(visit, "reason")
    if not renew and not reason:
        return ask("reason", visit.say("Say why it stays in: the report and the job keep it."))
    return PartChosen(part=part, renew=renew, reason=reason, trace=_trace(case, part))


def _trace(case: Case, part: str) -> str:
    """The number or batch of a new part as typed; what was noted before where nobody asks."""
    if "trace" in case.visit.form:
        return text(case.visit, "trace")[:MOST_TRACE]
    kept = case.state.choices.get(part)
    return kept.body.trace if kept and isinstance(kept.body, PartChosen) else ""


def _remark(case: Case) -> Body | Question:
    words = text(case.visit, "text")
    if not words:
        return ask("text", case.visit.say("Type the remark."))
    return Remarked(text=words, part=case.visit.field("part"))


def _finish(case: Case) -> Body | Question:
    stage = case.visit.field("stage")
    if stage not in STAGES:
        return ask("stage", case.visit.say("There is no such stage."))
    return StageFinished(stage=stage)


def _reopen(case: Case) -> Body | Question:
    stage = case.visit.field("stage")
    if stage not in STAGES:
        return ask("stage", case.visit.say("There is no such stage."))
    return StageReopened(stage=stage, reason=text(case.visit, "reason"))


def _give(case: Case) -> Body | Question:
    person = case.visit.field("person")
    if person and (person not in case.people or not case.people[person].active):
        return ask("person", case.visit.say("Choose somebody of the shop."))
    return GivenTo(person=person)


def _extent(case: Case) -> Body | Question:
    visit = case.visit
    known = {part.key for part in case.design.parts} if case.design else set()
    if visit.field("extent") == "full":
        wanted = [part.key for part in case.needed_design().parts]
    else:
        wanted = [key for key in visit.fields("parts") if key in known]
    if not wanted:
        return ask("parts", visit.say("Tick the parts that the work needs, or take all of it."))
    return ExtentChosen(parts=tuple(wanted), reason=text(visit, "reason"))


def _design(case: Case) -> Body | Question:
    key = case.visit.field("design")
    if design_named(case.visit.bench, key) is None:
        return ask("design", case.visit.say("Choose one of the designs."))
    return DesignChosen(design=key, reason=text(case.visit, "reason"))


def _bases(case: Case) -> Body | Question:
    known = basis_keys(case.visit.bench)
    keys = tuple(key for key in case.visit.fields("bases") if key in known)
    if not keys:
        return ask("bases", case.visit.say("Choose at least one basis to examine by."))
    return BasesChosen(bases=keys, reason=text(case.visit, "reason"))


def _day(case: Case) -> Body | Question:
    visit = case.visit
    try:
        day = datetime.date.fromisoformat(visit.field("day"))
    except ValueError:
        return ask("day", visit.say("Write the day like 2026-11-25."))
    if day > visit.bench.today:
        return ask("day", visit.say("This day is still to come."))
    return ExaminedOn(day=day)


def _withdraw(case: Case) -> Body | Question:
    entry = case.state.roots.get(case.visit.field("entry"), case.visit.field("entry"))
    if entry not in case.state.entries:
        return ask("entry", case.visit.say("There is no such entry. Load the page again."))
    if isinstance(case.state.entries[entry].event.body, CertificateIssued | CertificateWithdrawn):
        words = case.visit.say("A certificate is withdrawn with a signature, under Release.")
        return ask("entry", words)
    return Corrected(corrects=entry, replacement=None, reason=text(case.visit, "reason"))


def _settle(case: Case) -> Body | Question:
    """Say again, knowing both, what one of two people had entered."""
    for conflict in case.state.conflicts:
        for event in (conflict.earlier, conflict.later):
            if event.id == case.visit.field("entry"):
                body = event.body.replacement if isinstance(event.body, Corrected) else event.body
                kinds = (ReadingEntered, LookAnswered, PartChosen, StepTicked, *SPOKEN)
                if isinstance(body, kinds):
                    return body
    return ask("entry", case.visit.say("This is settled already."))


_MAKERS: Mapping[str, Callable[[Case], Body | Question]] = {
    "reading": reading_said,
    "correct": reading_said,
    "look": _look,
    "tick": _tick,
    "sign": _sign,
    "choose": _choose,
    "remark": _remark,
    "finish": _finish,
    "reopen": _reopen,
    "give": _give,
    "extent": _extent,
    "design": _design,
    "bases": _bases,
    "day": _day,
    "plate": booking_said,
    "customer": booking_said,
    "visit": booking_said,
    "found": booking_said,
    "identity": booking_said,
    "withdraw": _withdraw,
    "settle": _settle,
    "undo": undo_said,
    **PROVE_MAKERS,
}


@attrs.frozen(kw_only=True)
class Entered:
    """An entry that the journal has. `state`: the job after it, where it was entered just now."""

    id: str
    seq: int
    state: JobState | None = None
