"""The job: its exploded drawing is the menu; beside it what is missing and who was there."""

from __future__ import annotations

import attrs
from starlette.responses import Response

from hoistwright.drawing.signs import ALL_SIGNS, RENEWED, STATES
from hoistwright.job.state import LEFT
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.drawings import drawing_addresses
from hoistwright.web.pages.job.entering import shown, taking
from hoistwright.web.pages.job.frame import PAGES as STAGE_PAGES
from hoistwright.web.pages.job.frame import framed, missing_lines
from hoistwright.web.pages.job.parts import part_lines, part_states
from hoistwright.web.pages.job.question import Question

MOST_MISSING = 6


def show(case: Case, question: Question | None) -> Response:
    stage = case.stage
    missing = missing_lines(case, stage)
    fitted = renewed_parts(case)
    lines = part_lines(case) if case.design else ()
    return framed(
        case,
        "overview.html",
        "job",
        question,
        missing=missing[:MOST_MISSING],
        more=max(0, len(missing) - MOST_MISSING),
        ready=stage == LEFT,
        stage_page=STAGE_PAGES[stage],
        lines=[attrs.evolve(line, state=RENEWED, renew=False) if line.key in fitted else line
               for line in lines],
        states={**part_states(case), **dict.fromkeys(fitted, RENEWED)},
        signs=dict(ALL_SIGNS),
        state_words={word: case.visit.say(word) for word in (*STATES, RENEWED)},
        fitted=fitted,
        drawing=drawing_addresses(case) if case.design else {},
        touched=sorted(case.state.touched.items(), key=lambda item: item[1], reverse=True),
        people=[a for a in case.people.values() if a.active and {"technician", "competent person"}
                & set(a.roles)],
        remarks=case.state.remarks,
        photos=case.state.photos,
    )  # fmt: skip


def renewed_parts(case: Case) -> frozenset[str]:
    """Parts of which new ones are in: none before the rebuild is finished."""
    order = (*case.state.asked, LEFT)
    if "rebuild" not in order or order.index(case.stage) <= order.index("rebuild"):
        return frozenset()
    return frozenset(case.facts.renewed)


PAGES = (Page(name="job", path="/jobs/{job}", show=shown(show), take=taking(show)),)
