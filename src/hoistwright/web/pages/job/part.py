"""One part on the bench: caution, looks, measures, photos, whether it is renewed."""

from __future__ import annotations

from starlette.responses import Response

from hoistwright.examine.chain_split import chain_splits
from hoistwright.hoist.feature import catalogue
from hoistwright.hoist.parts import Part
from hoistwright.job.to_entries import entries_of
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.entering import shown, taking
from hoistwright.web.pages.job.examined import blocks_of, part_verdicts
from hoistwright.web.pages.job.frame import framed
from hoistwright.web.pages.job.parts import examined_order, part_line
from hoistwright.web.pages.job.question import Question
from hoistwright.web.pages.job.splits import SplitLine, split_lines
from hoistwright.web.refused import Refused

UNITS_COOKIE = "bench-units"


def show(case: Case, question: Question | None) -> Response:
    part = _part(case)
    units = _units(case)
    found = part_verdicts(case, part.key)
    blocks = [
        block
        for block in blocks_of(case, part.key, units, found)
        if block.stage != "rebuilt" or any(row.entry for row in block.rows)
    ]
    before, after = _neighbours(case, part.key)
    splits: tuple[SplitLine, ...] = ()
    if part.role == "load_chain":
        design = case.needed_design()
        entries = entries_of(case.state, design, case.shop)
        splits = split_lines(case, chain_splits(design, case.points, entries))
    response = framed(
        case,
        "part.html",
        "examine",
        question,
        part=part,
        line=part_line(case, part, found),
        blocks=blocks,
        splits=splits,
        caution=_caution(part),
        units=units,
        before=before,
        after=after,
        choice=case.state.choices.get(part.key),
        photos=[p for p in case.state.photos if getattr(p.body, "part", "") == part.key],
        remarks=[r for r in case.state.remarks if getattr(r.body, "part", "") == part.key],
        step=_freeing_step(case, part.key),
    )
    if case.visit.query("units") in ("mm", "in"):
        response.set_cookie(UNITS_COOKIE, units, samesite="lax", path="/")
    return response


def _units(case: Case) -> str:
    """The units of this tablet: as switched on the page, else as the person likes them."""
    wanted = case.visit.query("units") or case.visit.request.cookies.get(UNITS_COOKIE, "")
    return wanted if wanted in ("mm", "in") else case.visit.units


def _part(case: Case) -> Part:
    key = case.visit.part("part")
    for part in case.needed_design().parts:
        if part.key == key:
            return part
    say = case.visit.say
    raise Refused(404, say("This hoist has no such part."), say("Choose one from its drawing."))


def _caution(part: Part) -> str:
    role = catalogue().get(part.role)
    return role.caution if role else ""


def _neighbours(case: Case, key: str) -> tuple[str, str]:
    """The parts that are examined before and after this one, in strip order."""
    order = list(examined_order(case))
    if key not in order:
        return "", order[0] if order else ""
    at = order.index(key)
    return order[at - 1] if at else "", order[at + 1] if at + 1 < len(order) else ""


def _freeing_step(case: Case, key: str) -> str:
    """The strip step that takes the part off, where it is not ticked yet."""
    plan = case.facts.strip
    done = case.state.ticks("strip")
    for step in plan.steps if plan else ():
        if key in step.frees and step.key not in done:
            return step.key
    return ""


PAGES = (Page(name="job-part", path="/jobs/{job}/parts/{part}", show=shown(show),
              take=taking(show)),)  # fmt: skip
