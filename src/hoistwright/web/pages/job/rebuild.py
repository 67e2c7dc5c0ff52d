"""The rebuild: the strip backwards, with settings, lubricants, hold points and final looks."""

from __future__ import annotations

from starlette.responses import Response

from hoistwright.job.events import PartChosen
from hoistwright.quantity import Dimension, show
from hoistwright.strip.rebuild import RebuildStep
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.entering import shown, taking
from hoistwright.web.pages.job.examined import Block, blocks_of, part_verdicts
from hoistwright.web.pages.job.frame import framed, missing_lines
from hoistwright.web.pages.job.question import Question
from hoistwright.web.pages.job.step_pictures import picture_addresses


def show_page(case: Case, question: Question | None) -> Response:
    design = case.needed_design()
    plan = case.facts.rebuild
    steps = plan.steps if plan else ()
    done = case.state.ticks("rebuild")
    return framed(
        case,
        "rebuild.html",
        "rebuild",
        question,
        missing=missing_lines(case, "rebuild"),
        design=design,
        plan=plan,
        steps=steps,
        done=done,
        signatures=case.state.signatures,
        next_step=next((step.key for step in steps if step.key not in done), ""),
        torque={step.key: _torque(case, step) for step in steps if step.torque is not None},
        pictures=picture_addresses(case, "rebuild"),
        checks=final_looks(case),
        traced=_traced(case),
    )


def _traced(case: Case) -> tuple[PartChosen, ...]:
    """The parts that go in new, whose number or batch is to be noted."""
    bodies = (entry.body for entry in case.state.choices.values())
    known = {part.key for part in case.needed_design().parts}
    return tuple(
        body
        for body in bodies
        if isinstance(body, PartChosen) and body.renew and body.part in known
    )


def _torque(case: Case, step: RebuildStep) -> str:
    unit = "N m" if case.visit.units == "mm" else "lbf ft"
    return show(step.torque or 0.0, Dimension.TORQUE, unit)


def final_looks(case: Case) -> tuple[tuple[str, Block], ...]:
    """The looks at the rebuilt hoist, by part."""
    keys = dict.fromkeys(p.part for p in case.points if p.stage == "rebuilt")
    return tuple(
        (key, block)
        for key in keys
        for block in blocks_of(case, key, case.visit.units, part_verdicts(case, key))
        if block.stage == "rebuilt"
    )


PAGES = (Page(name="job-rebuild", path="/jobs/{job}/rebuild", show=shown(show_page),
              take=taking(show_page)),)  # fmt: skip
