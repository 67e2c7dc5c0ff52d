"""What all pages of a job share: the hoist at the top, the stages, what is missing."""

from __future__ import annotations

from typing import Any

import attrs
from starlette.responses import Response

from hoistwright.job.entry import new_id
from hoistwright.job.stages import Missing, missing_of
from hoistwright.job.state import LEFT, STAGES
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.conflicts import conflict_lines, event_words
from hoistwright.web.pages.job.missing_words import missing_link, missing_words
from hoistwright.web.pages.job.question import Question
from hoistwright.web.pages.job.undo import undo_of

PAGES = {
    "book in": "job-booking",
    "strip": "job-strip",
    "examine": "job-examine",
    "renew": "job-renew",
    "rebuild": "job-rebuild",
    "prove": "job-prove",
    "release": "job-release",
    LEFT: "job",
}


@attrs.frozen(kw_only=True)
class StageMark:
    """A stage in the bar. `word`: done, now, or still to come."""

    name: str
    page: str
    word: str


def framed(
    case: Case, template: str, here: str, question: Question | None = None, **more: Any
) -> Response:
    """A page of the job; `here` is the stage or page that is open."""
    visit = case.visit
    return visit.page(
        f"job/{template}",
        case=case,
        facts=case.facts,
        state=case.state,
        job=case.job,
        open_page=here,
        question=question,
        stages=stage_marks(case),
        stage=case.stage,
        stage_word=lambda name: stage_word(case, name),
        conflicts=conflict_lines(case),
        fresh=new_id,
        works=visit.may("work"),
        undo=undo_of(case),
        name_of=case.name,
        said_words=lambda event: event_words(case, event),
        **more,
    )


def stage_marks(case: Case) -> tuple[StageMark, ...]:
    """The stages; one that was called finished is done only while nothing of it is missing."""
    now = case.stage
    order, marks = (*case.state.asked, LEFT), []
    for stage in case.state.asked:
        before = order.index(stage) < order.index(now)
        done = before or (stage in case.state.finished and not missing_of(stage, case.facts))
        word = "now" if stage == now else "done" if done else "to come"
        marks.append(StageMark(name=stage, page=PAGES[stage], word=word))
    word = "now" if now == LEFT else "to come"
    return (*marks, StageMark(name=LEFT, page=PAGES[LEFT], word=word))


def stage_word(case: Case, name: str) -> str:
    """A stage's name; in French "renew" is another word for a stage than for a verdict."""
    say = case.visit.say
    return say("renewals") if name == "renew" and case.visit.language.code != "en" else say(name)


@attrs.frozen(kw_only=True)
class MissingLine:
    """One thing still missing, in the person's words, with where to do it."""

    words: str
    link: str
    what: str = ""


def missing_lines(case: Case, stage: str) -> tuple[MissingLine, ...]:
    """What a stage still asks for."""
    found: tuple[Missing, ...] = ()
    if stage in STAGES:
        found = missing_of(stage, case.facts)
    return tuple(
        MissingLine(words=missing_words(case, item), link=missing_link(case, item), what=item.what)
        for item in found
    )
