"""The examination: the parts in strip order, each with its state and what is left."""

from __future__ import annotations

from starlette.responses import Response

from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.entering import shown, taking
from hoistwright.web.pages.job.frame import framed, missing_lines
from hoistwright.web.pages.job.parts import part_lines
from hoistwright.web.pages.job.question import Question


def show(case: Case, question: Question | None) -> Response:
    lines = part_lines(case)
    wanted = [line for line in lines if line.wanted]
    examination = case.facts.examination
    return framed(
        case,
        "examine.html",
        "examine",
        question,
        lines=wanted,
        others=[line for line in lines if not line.wanted],
        next_part=next((line.key for line in wanted if line.left), ""),
        left=sum(line.left for line in wanted),
        findings=examination.findings if examination else (),
        missing=missing_lines(case, "examine"),
    )


PAGES = (Page(name="job-examine", path="/jobs/{job}/examine", show=shown(show),
              take=taking(show)),)  # fmt: skip
