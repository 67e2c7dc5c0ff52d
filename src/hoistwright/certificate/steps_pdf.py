"""Strip sheet and rebuild sheet: the steps with small drawings, tools, cautions, hold points."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from hoistwright import __version__
from hoistwright.certificate.cautions import general_cautions
from hoistwright.certificate.step_drawings import numbers_of_parts, step_picture, whole_picture
from hoistwright.certificate.typeset import Paper, typeset
from hoistwright.certificate.writer import Writer
from hoistwright.hoist.design import Design
from hoistwright.job.shop import Shop
from hoistwright.language import language, marked
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
    lang: str = "en",
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
        lang: the language of the sheet.
    """
    w = Writer(language(lang), "mm")
    return {
        **_common(design, plan, w.say("Strip sheet"), day, job, shop, trainee, w),
        "aim": w.say(
            "To %(purpose)s: %(parts)s.",
            purpose=w.say(plan.purpose), parts=_names(design, plan.wanted, w),
        ),
        "note": w.sentence(plan.note),
        "pieces_title": w.say("One-use parts that this strip spends: have new ones ready"),
        "pieces": _pieces(plan.one_use, w),
        "spends_word": w.say("spent"),
        "lit_word": w.say("comes off"),
        "steps": [_strip_step(design, plan.steps, at, w) for at in range(len(plan.steps))],
        "checks": [],
        "first_load": 0,
        "whole": _whole(design, plan.wanted, "wanted", w) if whole and plan.steps else None,
    }  # fmt: skip


def rebuild_data(
    design: Design,
    plan: RebuildPlan,
    *,
    day: datetime.date,
    job: str = "",
    shop: Shop | None = None,
    trainee: bool = False,
    whole: bool = True,
    lang: str = "en",
) -> dict[str, Any]:
    """Everything that a rebuild sheet prints, as `strip_data`, with the checks at its end."""
    w = Writer(language(lang), "mm")
    return {
        **_common(design, plan, w.say("Rebuild sheet"), day, job, shop, trainee, w),
        "aim": _renewed(design, plan, w),
        "note": "" if plan.steps else w.say("Nothing was opened: nothing goes back."),
        "pieces_title": w.say("New parts that go in"),
        "pieces": _pieces(plan.new_parts, w),
        "spends_word": w.say("New parts"),
        "lit_word": w.say("goes on"),
        "steps": [_rebuild_step(design, plan, at, w) for at in range(len(plan.steps))],
        "first_load": plan.first_load,
        "checks": [
            {
                "name": w.sentence(check.name),
                "question": w.sentence(check.question),
                "how": w.sentence(check.how),
                "finding": w.sentence(check.finding),
                "parts": ", ".join(w.sentence(design.part(key).name) for key in check.parts),
            }
            for check in plan.checks
        ],
        "whole": _whole(design, plan.renewed, "renewed", w) if whole and plan.steps else None,
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
    w: Writer,
) -> dict[str, Any]:
    identity = design.identity
    return {
        "lang": w.language.code,
        "title": title,
        "job": job,
        "on": day.isoformat(),
        "design": f"{w.named(identity.maker)} {w.named(identity.model)}, {w.say(identity.kind)}",
        "design_key": design.key,
        "invented": identity.invented,
        "software": f"Hoistwright {__version__}",
        "shop": {"name": shop.name if shop else "", "address": shop.address if shop else ""},
        "trainee": trainee,
        "minutes": _minutes(plan.seconds, w),
        "two_minutes": _minutes(plan.two_person_seconds, w)
        if plan.people > 1 or plan.two_person_seconds < plan.seconds
        else "",
        "people": plan.people,
        "turning": _turning(plan, w),
        "tools": [w.sentence(tool) for tool in plan.tools],
        "standing": [w.sentence(text) for text in plan.cautions],
        "cautions": general_cautions(w.language),
    }


def _whole(design: Design, lit: Collection[str], legend: str, w: Writer) -> dict[str, Any]:
    """The whole hoist with its parts list."""
    found = whole_picture(design, lit, w.say(legend))
    lines = [{**line, "name": w.sentence(line["name"])} for line in found["parts"]]
    return {**found, "parts": lines}


def _strip_step(design: Design, steps: Sequence[StripStep], at: int, w: Writer) -> dict[str, Any]:
    step = steps[at]
    off = {key for other in steps[:at] for key in other.frees}
    return {
        **_step(design, step, step.frees, w),
        "spends": _pieces(step.one_use, w),
        "shows": [w.sentence(design.part(key).name) for key in step.shows],
        "why": w.sentence(step.why),
        "picture": step_picture(
            design, step.frees, _all_but(design, off), step.side, worked_on=step.worked_on
        ),
        "hold_point": "",
        "stop": "",
        "work": [],
    }


def _rebuild_step(design: Design, plan: RebuildPlan, at: int, w: Writer) -> dict[str, Any]:
    steps, step = plan.steps, plan.steps[at]
    off = {key for other in steps[at:] for key in other.fits}
    return {
        **_step(design, step, step.fits, w),
        "spends": _pieces(step.fit_new, w),
        "shows": [],
        "why": w.sentence(step.why),
        "picture": step_picture(
            design,
            step.fits,
            _all_but(design, off),
            step.side,
            worked_on=step.worked_on,
            back=True,
        ),
        "hold_point": w.sentence(step.hold_point),
        "stop": _stop(plan, step, w) if step.hold_point else "",
        "work": _work(design, step, w),
    }


def _step(
    design: Design, step: StripStep | RebuildStep, moved: Sequence[str], w: Writer
) -> dict[str, Any]:
    numbers = numbers_of_parts(design)
    return {
        "number": step.number,
        "name": w.sentence(step.name),
        "side": w.say(step.side),
        "turn": step.turn,
        "fastener": w.sentence(step.fastener),
        "tool": w.sentence(step.tool),
        "minutes": _minutes(step.seconds, w),
        "person": step.person,
        "start": _minutes(step.start, w),
        "end": _minutes(step.end, w),
        "from_minute": step.start / 60.0,
        "to_minute": step.end / 60.0,
        "caution": w.sentence(step.caution),
        "watch": w.sentence(step.watch),
        "parts": [
            {"number": numbers.get(key), "name": w.sentence(design.part(key).name),
             "quantity": design.part(key).quantity}
            for key in moved
        ],
    }  # fmt: skip


def _renewed(design: Design, plan: RebuildPlan, w: Writer) -> str:
    said = [w.say("One-use parts always go in new.")]
    if plan.renewed:
        said.insert(0, w.say("Renewed: %(parts)s.", parts=_names(design, plan.renewed, w)))
    return " ".join(said)


def _turning(plan: StripPlan | RebuildPlan, w: Writer) -> str:
    if plan.people > 1:
        return w.say("Two people: the hoist stands upright, both sides open; it is not turned.")
    return w.sentence(f"Turn the hoist {times(plan.turns)}.") if plan.turns else ""


def _stop(plan: RebuildPlan, step: RebuildStep, w: Writer) -> str:
    """What must not go on before the hold point of a step is signed."""
    if plan.people == 1:
        return w.say("No further step before it is signed.")
    held = next(point.holds for point in plan.hold_points if point.step == step.key)
    waits = [str(other.number) for other in plan.steps if other.key in held]
    named = w.say(" and ").join(filter(None, (", ".join(waits[:-1]), *waits[-1:])))
    if not waits:
        return w.say("Before it is signed person %(who)s goes no further.", who=step.person)
    text = _ONE_WAITS if len(waits) == 1 else _MANY_WAIT
    return w.say(text, who=step.person, steps=named)


_ONE_WAITS = marked(
    "Before it is signed person %(who)s goes no further, and step %(steps)s does not begin."
)
_MANY_WAIT = marked(
    "Before it is signed person %(who)s goes no further, and steps %(steps)s do not begin."
)


def _all_but(design: Design, off: Collection[str]) -> tuple[str, ...]:
    """The parts that are on the hoist by steps of their own: what rides on a cover, such as the
    data plate, is not where the drawing would put it.
    """
    own = {key for step in design.take_apart for key in step.frees}
    return tuple(part.key for part in design.parts if part.key in own - {*off})


def _work(design: Design, step: RebuildStep, w: Writer) -> list[dict[str, str]]:
    """Treatments, marks, settings and torque, each with its word."""
    rows = [
        {"word": w.say(item.treatment), "text": _where(design, item.part, item.where, w)}
        for item in step.treated
    ]
    if step.marks:
        rows.append({"word": w.say("marks"), "text": w.sentence(step.marks)})
    if step.setting:
        rows.append({"word": w.say("setting"), "text": w.sentence(step.setting)})
    if step.torque is not None:
        mark = w.language.decimal
        torque = show(step.torque, Dimension.TORQUE, "N m", decimal=mark)
        imperial = show(step.torque, Dimension.TORQUE, "lbf ft", uncertainty=10.0, decimal=mark)
        rows.append({"word": w.say("torque"), "text": f"{torque} ({imperial})"})
    return rows


def _where(design: Design, part: str, where: str, w: Writer) -> str:
    name = design.part(part).name if part else ""
    said = (w.sentence(text) for text in (name, where) if text)
    return w.colon.join(said) or w.say("these parts")


def _names(design: Design, keys: Sequence[str], w: Writer) -> str:
    """Names of parts; of many only how many."""
    if len(keys) > _NAMED:
        return w.say("%(number)s parts of the list", number=len(keys))
    return ", ".join(w.sentence(design.part(key).name) for key in keys) or w.say("nothing")


def _pieces(found: Sequence[Pieces], w: Writer) -> list[dict[str, Any]]:
    return [{"name": w.sentence(item.name), "quantity": item.quantity} for item in found]


def _minutes(seconds: float, w: Writer) -> str:
    """Minutes as people say them.

    >>> english = Writer(language("en"), "mm")
    >>> _minutes(90.0, english), _minutes(60.0, english), _minutes(0.0, english)
    ('1.5', '1', '0')
    """
    return f"{seconds / 60.0:.1f}".removesuffix(".0").replace(".", w.language.decimal)
