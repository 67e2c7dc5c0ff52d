"""Two people who entered different things without knowing of each other."""

from __future__ import annotations

import attrs

from hoistwright.job.entry import Event
from hoistwright.job.events import (
    Body,
    Corrected,
    LookAnswered,
    PartChosen,
    ReadingEntered,
    StepTicked,
)
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.prove_words import SPOKEN, proof_about, proof_words
from hoistwright.web.pages.job.values import values_text


@attrs.frozen(kw_only=True)
class Said:
    """What one of the two entered."""

    entry: str
    by: str
    words: str


@attrs.frozen(kw_only=True)
class ConflictLine:
    """Both sides; the second one stands for the present."""

    about: str
    first: Said
    second: Said
    can_settle: bool


def conflict_lines(case: Case) -> tuple[ConflictLine, ...]:
    """The open conflicts of the job."""
    return tuple(
        ConflictLine(
            about=about(case, _body(conflict.later)),
            first=_said(case, conflict.earlier),
            second=_said(case, conflict.later),
            can_settle=isinstance(
                _body(conflict.later),
                (ReadingEntered, LookAnswered, PartChosen, StepTicked, *SPOKEN),
            ),
        )
        for conflict in case.state.conflicts
    )


def _body(event: Event) -> Body | None:
    return event.body.replacement if isinstance(event.body, Corrected) else event.body


def _said(case: Case, event: Event) -> Said:
    return Said(entry=event.id, by=case.name(event.by), words=body_words(case, _body(event)))


def about(case: Case, body: Body | None) -> str:
    """What an entry speaks of: the part and what of it."""
    say = case.visit.say
    if isinstance(body, ReadingEntered | LookAnswered):
        point = next(
            (p for p in case.points if (p.part, p.feature) == (body.part, body.feature)), None
        )
        named = (say(point.part_name), say(point.name)) if point else (body.part, body.feature)
        return ", ".join(word for word in (*named, body.place) if word)
    told = proof_about(case.visit, body)
    if told:
        return told
    if isinstance(body, PartChosen) and case.design:
        return say(case.design.part(body.part).name)
    if isinstance(body, StepTicked):
        plan = case.facts.strip if body.way == "strip" else case.facts.rebuild
        steps = plan.steps if plan else ()
        name = next((step.name for step in steps if step.key == body.step), body.step)
        return say(name).rstrip(".")
    return ", ".join(word for word in body.topic if word) if body else ""


def event_words(case: Case, event: Event) -> str:
    """What an event says; of a correction what it puts in place."""
    return body_words(case, _body(event))


def body_words(case: Case, body: Body | None) -> str:
    """What an entry says, in a few words."""
    say = case.visit.say
    if body is None:
        return say("taken back")
    if isinstance(body, ReadingEntered):
        return values_text(case, body)
    if isinstance(body, LookAnswered):
        return say(body.answer)
    if isinstance(body, PartChosen):
        return say("renew") if body.renew else say("stays in")
    if isinstance(body, StepTicked):
        return say("done") if body.done else say("not done")
    return proof_words(case.visit, body) or say(body.kind)
