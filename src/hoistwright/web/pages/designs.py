"""The designs, and one design: its figures, its drawing, its parts."""

from __future__ import annotations

import functools
import hashlib

from starlette.responses import Response

from hoistwright.check import DesignCheck, check_design
from hoistwright.drawing import exploded, parts_list
from hoistwright.hoist.design import Design
from hoistwright.quantity import Dimension
from hoistwright.web.designs import all_designs, design_named
from hoistwright.web.page import Page
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit


def show_all(visit: Visit) -> Response:
    return visit.page("designs.html", designs=all_designs(visit.bench))


def show(visit: Visit) -> Response:
    design = _design(visit)
    numbers = {line.key: line.number for line in parts_list(design)}
    return visit.page(
        "design.html",
        design=design,
        name=visit.part("design"),
        found=_checked(design),
        length_dimension=Dimension.LENGTH,
        parts_of=[(numbers.get(part.key), part) for part in design.parts if part.role != "hoist"],
    )


def draw(visit: Visit) -> Response:
    """The exploded drawing as a picture; kept by the browser until the design changes."""
    svg = _drawing(_design(visit))
    tag = f'"{hashlib.sha256(svg.encode()).hexdigest()[:20]}"'
    headers = {"etag": tag, "cache-control": "private, max-age=0, must-revalidate"}
    if visit.request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers=headers)
    return Response(svg, media_type="image/svg+xml", headers=headers)


def _design(visit: Visit) -> Design:
    design = design_named(visit.bench, visit.part("design"))
    if design is None:
        raise Refused(
            404,
            visit.say("There is no such design here."),
            visit.say("The page of designs lists all there are."),
        )
    return design


@functools.lru_cache(maxsize=64)
def _checked(design: Design) -> DesignCheck:
    return check_design(design)


@functools.lru_cache(maxsize=64)
def _drawing(design: Design) -> str:
    return exploded(design)


PAGES = (
    Page(name="designs", path="/designs", show=show_all),
    Page(name="design", path="/designs/{design}", show=show),
    Page(name="design-drawing", path="/designs/{design}/drawing.svg", show=draw),
)
