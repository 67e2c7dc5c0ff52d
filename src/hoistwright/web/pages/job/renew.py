"""What is renewed: parts that must, parts a competent person decides on, and the kit."""

from __future__ import annotations

import attrs
from starlette.responses import Response

from hoistwright.job.events import PartChosen
from hoistwright.job.stages import missing_of
from hoistwright.job.state import Standing
from hoistwright.strip.plan import merged_pieces, pieces
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.entering import shown, taking
from hoistwright.web.pages.job.frame import framed, missing_lines
from hoistwright.web.pages.job.parts import part_states
from hoistwright.web.pages.job.question import Question


@attrs.frozen(kw_only=True)
class Choice:
    """A part to decide on."""

    key: str
    name: str
    state: str
    why: tuple[str, ...]
    entry: Standing | None
    renew: bool | None
    reason: str
    by: str
    open: bool


def show(case: Case, question: Question | None) -> Response:
    design = case.needed_design()
    asked = {item.address[0] for item in missing_of("renew", case.facts)}
    states = part_states(case)
    chosen = [k for k in case.state.choices if k in {p.key for p in design.parts}]
    must = [p.key for p in design.parts if states.get(p.key) in ("renew", "borderline")]
    must = [key for key in must if key != "hoist"]
    wanted = dict.fromkeys([*must, *asked, *chosen, *case.facts.renewed])
    plan = case.facts.strip
    kit = merged_pieces(
        [*(pieces(design, key) for key in case.facts.renewed), *(plan.one_use if plan else ())]
    )
    one_use = {piece.part for piece in plan.one_use} if plan else set()
    return framed(
        case,
        "renew.html",
        "renew",
        question,
        missing=missing_lines(case, "renew"),
        choices=[_choice(case, key, states.get(key, ""), key in asked) for key in wanted if key],
        others=[p for p in design.parts if p.key not in wanted and p.role != "hoist"],
        kit=kit,
        one_use=one_use,
        design=design,
        competent=case.visit.may("sign"),
    )


def _choice(case: Case, key: str, state: str, asked: bool) -> Choice:
    entry = case.state.choices.get(key)
    body = entry.body if entry else None
    decided = body if isinstance(body, PartChosen) else None
    return Choice(
        key=key,
        name=case.needed_design().part(key).name,
        state=state,
        why=_why(case, key),
        entry=entry,
        renew=decided.renew if decided else None,
        reason=decided.reason if decided else "",
        by=case.name(entry.last.by) if entry else "",
        open=asked,
    )


def _why(case: Case, key: str) -> tuple[str, ...]:
    """The findings a choice follows from: what is renew or borderline, each once."""
    examination = case.facts.examination
    say = case.visit.say
    found = (
        f"{say(v.feature_name)}{f', {v.place}' if v.place else ''}: {say(v.why)}"
        for v in (examination.verdicts if examination else ())
        if v.part == key and v.outcome.words in ("renew", "borderline")
    )
    return tuple(dict.fromkeys(found))


PAGES = (Page(name="job-renew", path="/jobs/{job}/renew", show=shown(show),
              take=taking(show)),)  # fmt: skip
