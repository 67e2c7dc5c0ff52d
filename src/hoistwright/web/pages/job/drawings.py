"""Drawings of a job's hoist: drawn once for a design, shown with the states of the job."""

from __future__ import annotations

import functools
import hashlib
import re
from collections.abc import Mapping

import attrs
from markupsafe import escape
from starlette.responses import Response

from hoistwright.drawing import drawable, drawn
from hoistwright.drawing.svg import hatch_definitions
from hoistwright.hoist.design import Design
from hoistwright.job.remembered import remembered
from hoistwright.language import Language
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case, case_of
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit

SHAPES: Mapping[str, tuple[float, float]] = {"wide": (170.0, 128.0), "tall": (120.0, 190.0)}
"""Millimetres of paper: for a desk or a tablet on its side, and for one held upright."""

FONT = "system-ui, Noto Sans, DejaVu Sans, sans-serif"
_PART = re.compile(
    r'<g id="job-part-(?P<key>[^"]+)" class="[^"]*" data-part="[^"]*" role="img" '
    r'aria-label="[^"]*"(?P<rest>[^>]*)><title>[^<]*</title>'
)
_HATCHED = ("renew", "borderline", "not established")
_FILL = 'fill="url(#job-hatch-not-established)"'


def drawing_addresses(case: Case) -> Mapping[str, str]:
    """Where each shape of the drawing is; the address changes with the design."""
    digest = design_digest(case.needed_design())
    code = case.visit.language.code
    url = case.visit.url
    return {
        shape: f"{url('job-drawing', job=case.job, shape=shape)}?{digest}-{code}"
        for shape in SHAPES
    }


def design_digest(design: Design) -> str:
    return _digest(id(design), design.key, repr(design.parts))


@functools.lru_cache(maxsize=64)
def _digest(_id: int, key: str, parts: str) -> str:
    return hashlib.sha256(f"{key} {parts}".encode()).hexdigest()[:12]


def show(visit: Visit) -> Response:
    case = case_of(visit)
    design, shape = case.needed_design(), visit.part("shape")
    if shape not in SHAPES:
        raise Refused(404, visit.say("There is no such page here."))
    looked_at = tuple(sorted({point.part for point in case.points}))
    svg = menu_drawing(_named(design, visit.language), shape, looked_at)
    return kept_svg(svg)


def kept_svg(svg: str) -> Response:
    """A drawing whose address changes with its content."""
    return Response(
        svg,
        media_type="image/svg+xml",
        headers={"cache-control": "private, max-age=31536000, immutable"},
    )


@remembered
def _named(design: Design, language: Language) -> Design:
    """The design with the names of its parts in the person's language; one for each."""
    if language.code == "en":
        return design
    parts = tuple(attrs.evolve(part, name=language.say(part.name)) for part in design.parts)
    return attrs.evolve(design, parts=parts)


@remembered
def menu_drawing(design: Design, shape: str, looked_at: tuple[str, ...]) -> str:
    """The drawing as a menu: each part a link target, with room for a sign where it has looks.

    All states are left open; the page fills them in, so that one drawing serves all jobs.
    """
    known = {part.key for part in drawable(design)}
    made = drawn(
        design,
        states={part: "not established" for part in looked_at if part in known},
        size=SHAPES[shape],
        prefix="job",
        font=FONT,
    )
    return _as_menu(made.svg, design)


def _as_menu(svg: str, design: Design) -> str:
    """Parts and balloons as links without a target; states, signs and hatches taken out."""
    svg = _PART.sub(lambda found: _link(found, design), svg)
    svg = re.sub(r'<g class="legend">.*?</g>\n?', "", svg, flags=re.DOTALL)
    svg = svg.replace(_FILL, 'class="face"')
    svg = re.sub(
        r"<defs>.*?</defs>", hatch_definitions("job", _HATCHED), svg, count=1, flags=re.DOTALL
    )
    svg = re.sub(r'(<path class="sign" d=")[^"]*"', r'\1"', svg)
    svg = re.sub(r'width="[\d.]+mm" height="[\d.]+mm" ', "", svg, count=1)
    return svg


def _link(found: re.Match[str], design: Design) -> str:
    part = design.part(found["key"])
    label = f"{escape(part.name)}, {part.quantity}" if part.quantity > 1 else escape(part.name)
    return (
        f'<g id="job-part-{found["key"]}" class="part" data-part="{found["key"]}" role="link" '
        f'tabindex="0" aria-label="{label}"{found["rest"]}><title>{label}</title>'
    )


PAGES = (Page(name="job-drawing", path="/jobs/{job}/drawing/{shape}", show=show),)
