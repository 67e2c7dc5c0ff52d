"""Small drawings of single steps: the parts that move, among their neighbours."""

from __future__ import annotations

import functools
import hashlib
from collections.abc import Mapping, Sequence

from starlette.responses import Response

from hoistwright.certificate.step_drawings import step_picture
from hoistwright.hoist.design import Design
from hoistwright.hoist.parts import Side
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case, case_of
from hoistwright.web.pages.job.drawings import kept_svg
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit

Move = tuple[str, tuple[str, ...], tuple[tuple[str, ...], ...], Side]
"""Key of a step, the parts it moves, those of the steps around it, its side."""


def moves(case: Case, way: str) -> tuple[Move, ...]:
    """The steps of a plan as their pictures need them."""
    if way == "strip":
        plan = case.facts.strip
        steps = [(s.key, s.frees, s.side, s.shows) for s in plan.steps] if plan else []
        return tuple(
            (key, moved, (also, *_same_side(steps[at + 1 :], side)), side)
            for at, (key, moved, side, also) in enumerate(steps)
        )
    back = case.facts.rebuild
    steps = [(s.key, s.fits, s.side, ()) for s in back.steps] if back else []
    return tuple(
        (key, moved, tuple(_same_side(steps[:at][::-1], side)), side)
        for at, (key, moved, side, _) in enumerate(steps)
    )


def _same_side(
    steps: Sequence[tuple[str, tuple[str, ...], Side, tuple[str, ...]]], side: Side
) -> list[tuple[str, ...]]:
    return [moved for _, moved, other, _ in steps if other == side][:4]


def picture_addresses(case: Case, way: str) -> Mapping[str, str]:
    """Where the picture of each step is; a step that moves nothing has none."""
    url = case.visit.url
    return {
        move[0]: f"{url('job-step', job=case.job, way=way, step=move[0])}?{_digest(case, move)}"
        for move in moves(case, way)
        if move[1]
    }


def _digest(case: Case, move: Move) -> str:
    return hashlib.sha256(f"{case.state.design} {move}".encode()).hexdigest()[:12]


def show(visit: Visit) -> Response:
    case, way, key = case_of(visit), visit.part("way"), visit.part("step")
    found = next((move for move in moves(case, way) if move[0] == key), None)
    if found is None or way not in ("strip", "rebuild") or not found[1]:
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
    _, moved, around, side = move
    return step_picture(kept.design, moved, around, side, back=back) or "<svg/>"


PAGES = (Page(name="job-step", path="/jobs/{job}/steps/{way}/{step}", show=show),)
