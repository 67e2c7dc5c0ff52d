"""The strip: how far the hoist is taken apart, step by step, with ticks."""

from __future__ import annotations

from starlette.responses import Response

from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.entering import shown, taking
from hoistwright.web.pages.job.frame import framed
from hoistwright.web.pages.job.question import Question
from hoistwright.web.pages.job.step_pictures import picture_addresses


def show(case: Case, question: Question | None) -> Response:
    design = case.needed_design()
    plan = case.facts.strip
    done = case.state.ticks("strip")
    steps = plan.steps if plan else ()
    return framed(
        case,
        "strip.html",
        "strip",
        question,
        design=design,
        plan=plan,
        steps=steps,
        done=done,
        next_step=next((step.key for step in steps if step.key not in done), ""),
        pictures=picture_addresses(case, "strip"),
        extent=case.state.extent,
        whole=case.state.extent is None or len(case.state.extent) == len(design.parts),
        choosable=[part for part in design.parts if part.role and part.role != "hoist"],
    )


PAGES = (Page(name="job-strip", path="/jobs/{job}/strip", show=shown(show),
              take=taking(show)),)  # fmt: skip
