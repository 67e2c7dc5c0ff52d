"""Strip sheet and rebuild sheet: the steps with small drawings, tools, cautions, hold points."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from hoistwright import __version__
from hoistwright.certificate.cautions import general_cautions
from hoistwright.certificate.step_drawings import numbers_of_parts, step_picture, whole_picture
from hoistwright.certificate.typeset import Paper, typeset
from hoistwright.hoist.design import Design
from hoistwright.job.shop import Shop
from hoistwright.quantity import Dimension, show
from hoistwright.strip.plan import Pieces, StripPlan, StripStep
from hoistwright.strip.rebuild import RebuildPlan, RebuildStep
from hoistwright.strip.wording import times

_NAMED = 12
"""Parts named one by one in a heading; more are only counted."""


def strip_data(
    design: Design,
    plan: StripPlan,
    *,
    day: datetime.date,
    job: str = "",
    shop: Shop | None = None,
    trainee: bool = False,
    whole: bool = True,
) -> dict[str, Any]:
    """Everything that a strip sheet prints, as plain JSON values. Pure.

    Args:
        design: the design the plan was made for.
        plan: from `hoistwright.strip.plan`.
        day: stands on the sheet.
        job: number of the job; empty leaves room to write it.
        shop: for its name.
        trainee: also why each step is done and what to watch.
        whole: also the exploded drawing of the whole hoist with its parts list.
    """
    return {
        **_common(design, plan, "Strip sheet", day, job, shop, trainee),
        "aim": f"To {plan.purpose}: {_names(design, plan.wanted)}.",
        "note": plan.note,
        "pieces_title": "One-use parts that this strip spends: have new ones ready",
        "pieces": _pieces(plan.one_use),
        "spends_word": "spent",
        "lit_word": "comes off",
        "steps": [_strip_step(design, plan.steps, at) for at in range(len(plan.steps))],
        "checks": [],
        "first_load": 0,
        "whole": whole_picture(design, plan.wanted, "wanted") if whole and plan.steps else None,
    }


def rebuild_data(
    design: Design,
    plan: RebuildPlan,
    *,
    day: datetime.date,
    job: str = "",
    shop: Shop | None = None,
    trainee: bool = False,
    whole: bool = True,
) -> dict[str, Any]:
    """Everything that a rebuild sheet prints, as `strip_data`, with the checks at its end."""
    return {
        **_common(design, plan, "Rebuild sheet", day, job, shop, trainee),
        "aim": _renewed(design, plan),
        "note": "" if plan.steps else "Nothing was opened: nothing goes back.",
        "pieces_title": "New parts that go in",
        "pieces": _pieces(plan.new_parts),
        "spends_word": "new",
        "lit_word": "goes on",
        "steps": [_rebuild_step(design, plan, at) for at in range(len(plan.steps))],
        "first_load": plan.first_load,
        "checks": [
            {
                "name": check.name,
                "question": check.question,
                "how": check.how,
                "finding": check.finding,
                "parts": ", ".join(design.part(key).name for key in check.parts),
            }
            for check in plan.checks
        ],
        "whole": whole_picture(design, plan.renewed, "renewed") if whole and plan.steps else None,
    }


def render_steps(data: Mapping[str, Any], paper: Paper = "a4") -> bytes:
    """A strip or rebuild sheet as PDF. `data` comes from `strip_data` or `rebuild_data`."""
    return typeset("steps", data, day=datetime.date.fromisoformat(data["on"]), paper=paper)


def _common(
    design: Design,
    plan: StripPlan | RebuildPlan,
    title: str,
    day: datetime.date,
    job: str,
    shop: Shop | None,
    trainee: bool,
) -> dict[str, Any]:
    identity = design.identity
    return {
        "title": title,
        "job": job,
        "on": day.isoformat(),
        "design": f"{identity.maker} {identity.model}, {identity.kind}",
        "design_key": design.key,
        "invented": identity.invented,
        "software": f"Hoistwright {__version__}",
        "shop": {"name": shop.name if shop else "", "address": shop.address if shop else ""},
        "trainee": trainee,
        "minutes": _minutes(plan.seconds),
        "two_minutes": _minutes(plan.two_person_seconds)
        if plan.people > 1 or plan.two_person_seconds < plan.seconds
        else "",
        "people": plan.people,
        "turning": _turning(plan),
        "tools": list(plan.tools),
        "standing": list(plan.cautions),
        "cautions": general_cautions(),
    }


def _strip_step(design: Design, steps: Sequence[StripStep], at: int) -> dict[str, Any]:
    step = steps[at]
    off = {key for other in steps[:at] for key in other.frees}
    return {
        **_step(design, step, step.frees),
        "spends": _pieces(step.one_use),
        "shows": [design.part(key).name for key in step.shows],
        "why": step.why,
        "picture": step_picture(
            design, step.frees, _all_but(design, off), step.side, worked_on=step.worked_on
        ),
        "hold_point": "",
        "stop": "",
        "work": [],
    }


def _rebuild_step(design: Design, plan: RebuildPlan, at: int) -> dict[str, Any]:
    steps, step = plan.steps, plan.steps[at]
    off = {key for other in steps[at:] for key in other.fits}
    return {
        **_step(design, step, step.fits),
        "spends": _pieces(step.fit_new),
        "shows": [],
        "why": "",
        "picture": step_picture(
            design,
            step.fits,
            _all_but(design, off),
            step.side,
            worked_on=step.worked_on,
            back=True,
        ),
        "hold_point": step.hold_point,
        "stop": _stop(plan, step) if step.hold_point else "",
        "work": _work(design, step),
    }


def _step(design: Design, step: StripStep | RebuildStep, moved: Sequence[str]) -> dict[str, Any]:
    numbers = numbers_of_parts(design)
    return {
        "number": step.number,
        "name": step.name,
        "side": step.side,
        "turn": step.turn,
        "fastener": step.fastener,
        "tool": step.tool,
        "minutes": _minutes(step.seconds),
        "person": step.person,
        "start": _minutes(step.start),
        "end": _minutes(step.end),
        "caution": step.caution,
        "watch": step.watch,
        "parts": [
            {"number": numbers.get(key), "name": design.part(key).name,
             "quantity": design.part(key).quantity}
            for key in moved
        ],
    }  # fmt: skip


def _renewed(design: Design, plan: RebuildPlan) -> str:
    named = f"Renewed: {_names(design, plan.renewed)}. " if plan.renewed else ""
    return f"{named}One-use parts always go in new."


def _turning(plan: StripPlan | RebuildPlan) -> str:
    if plan.people > 1:
        return "Two people: the hoist stands upright, both sides open; it is not turned."
    return f"Turn the hoist {times(plan.turns)}." if plan.turns else ""


def _stop(plan: RebuildPlan, step: RebuildStep) -> str:
    """What must not go on before the hold point of a step is signed."""
    if plan.people == 1:
        return "No further step before it is signed."
    held = next(point.holds for point in plan.hold_points if point.step == step.key)
    waits = [str(other.number) for other in plan.steps if other.key in held]
    named = " and ".join(filter(None, (", ".join(waits[:-1]), *waits[-1:])))
    steps = f"step {named} does" if len(waits) == 1 else f"steps {named} do"
    also = f", and {steps} not begin" if waits else ""
    return f"Before it is signed person {step.person} goes no further{also}."


def _all_but(design: Design, off: Collection[str]) -> tuple[str, ...]:
    """The parts that are on the hoist by steps of their own: what rides on a cover, such as the
    data plate, is not where the drawing would put it.
    """
    own = {key for step in design.take_apart for key in step.frees}
    return tuple(part.key for part in design.parts if part.key in own - {*off})


def _work(design: Design, step: RebuildStep) -> list[dict[str, str]]:
    """Treatments, marks, settings and torque, each with its word."""
    rows = [
        {"word": item.treatment, "text": _where(design, item.part, item.where)}
        for item in step.treated
    ]
    if step.marks:
        rows.append({"word": "marks", "text": step.marks})
    if step.setting:
        rows.append({"word": "setting", "text": step.setting})
    if step.torque is not None:
        torque = show(step.torque, Dimension.TORQUE, "N m")
        imperial = show(step.torque, Dimension.TORQUE, "lbf ft", uncertainty=10.0)
        rows.append({"word": "torque", "text": f"{torque} ({imperial})"})
    return rows


def _where(design: Design, part: str, where: str) -> str:
    name = design.part(part).name if part else ""
    return ": ".join(text for text in (name, where) if text) or "these parts"


def _names(design: Design, keys: Sequence[str]) -> str:
    """Names of parts; of many only how many."""
    if len(keys) > _NAMED:
        return f"{len(keys)} parts of the list"
    return ", ".join(design.part(key).name for key in keys) or "nothing"


def _pieces(found: Sequence[Pieces]) -> list[dict[str, Any]]:
    return [{"name": item.name, "quantity": item.quantity} for item in found]


def _minutes(seconds: float) -> str:
    """Minutes as people say them.

    >>> _minutes(90.0), _minutes(60.0), _minutes(0.0)
    ('1.5', '1', '0')
    """
    return f"{seconds / 60.0:.1f}".removesuffix(".0")
