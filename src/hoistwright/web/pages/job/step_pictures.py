"""Small drawings of single steps: the parts that move, among their neighbours."""

from __future__ import annotations

import functools
import hashlib
from collections.abc import Mapping, Sequence

import attrs
from starlette.responses import Response

from hoistwright.certificate.step_drawings import step_picture
from hoistwright.hoist.design import Design
from hoistwright.hoist.parts import Side
from hoistwright.strip.plan import StripStep
from hoistwright.strip.rebuild import RebuildStep
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case, case_of
from hoistwright.web.pages.job.drawings import kept_svg
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit


@attrs.frozen(kw_only=True)
class Move:
    """A step as its picture needs it. `off`: parts that are off the hoist meanwhile."""

    key: str
    moved: tuple[str, ...]
    off: tuple[str, ...]
    worked_on: tuple[str, ...]
    side: Side


def moves(case: Case, way: str) -> tuple[Move, ...]:
    """The steps of a plan as their pictures need them."""
    if way == "strip":
        strip = case.facts.strip
        return _stripped(strip.steps) if strip else ()
    back = case.facts.rebuild
    return _rebuilt(back.steps) if back else ()


def _stripped(steps: Sequence[StripStep]) -> tuple[Move, ...]:
    return tuple(
        Move(
            key=step.key,
            moved=step.frees,
            off=tuple(key for other in steps[:at] for key in other.frees),
            worked_on=step.worked_on,
            side=step.side,
        )
        for at, step in enumerate(steps)
    )


def _rebuilt(steps: Sequence[RebuildStep]) -> tuple[Move, ...]:
    return tuple(
        Move(
            key=step.key,
            moved=step.fits,
            off=tuple(key for other in steps[at:] for key in other.fits),
            worked_on=step.worked_on,
            side=step.side,
        )
        for at, step in enumerate(steps)
    )


def picture_addresses(case: Case, way: str) -> Mapping[str, str]:
    """Where the picture of each step is; a step that moves nothing has none."""
    url = case.visit.url
    return {
        move.key: f"{url('job-step', job=case.job, way=way, step=move.key)}?{_digest(case, move)}"
        for move in moves(case, way)
        if move.moved
    }


def _digest(case: Case, move: Move) -> str:
    return hashlib.sha256(f"{case.state.design} {move}".encode()).hexdigest()[:12]


def show(visit: Visit) -> Response:
    case, way, key = case_of(visit), visit.part("way"), visit.part("step")
    found = next((move for move in moves(case, way) if move.key == key), None)
    if found is None or way not in ("strip", "rebuild") or not found.moved:
        raise Refused(404, visit.say("There is no such page here."))
    return kept_svg(_picture(_Kept(case.needed_design()), found, way == "rebuild"))


class _Kept:
    """A design as a key of the cache: the same object is the same design."""

    def __init__(self, design: Design) -> None:
        self.design = design

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Kept) and other.design is self.design

    def __hash__(self) -> int:
        return id(self.design)


@functools.lru_cache(maxsize=400)
def _picture(kept: _Kept, move: Move, back: bool) -> str:
    present = [part.key for part in kept.design.parts if part.key not in {*move.off}]
    drawn = step_picture(
        kept.design, move.moved, present, move.side, worked_on=move.worked_on, back=back
    )
    return drawn or "<svg/>"


PAGES = (Page(name="job-step", path="/jobs/{job}/steps/{way}/{step}", show=show),)
