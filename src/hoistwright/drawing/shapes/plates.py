"""Plates, covers and cases."""

from __future__ import annotations

import math

import numpy as np

from hoistwright.drawing.project import Points
from hoistwright.drawing.shapes.body import Bar, Body, Prism, Solid
from hoistwright.drawing.shapes.catalogue import Size, shape
from hoistwright.drawing.shapes.outlines import circle, lobed, moved, polar, rectangle, ribbon
from hoistwright.drawing.shapes.round import around, closed, stay_places


def _lobed_plate(radius: float, waist: float) -> tuple[Points, list[tuple[float, float]]]:
    places = stay_places(radius)
    rounds = [(0.0, 0.0, radius * waist), *((x, y, radius * 0.15) for x, y in places)]
    return lobed(rounds), places


@shape("side plate", outer=180, inner=52, thickness=6)
def side_plate(size: Size) -> Body:
    """A side plate: lobes for the stay bolts, the sheave's bore, small bores."""
    radius = size.outer / 2
    outline, places = _lobed_plate(radius, 0.80)
    holes = [circle(size.inner / 2)]
    holes += [circle(radius * 0.06, at=at) for at in places]
    holes += [circle(radius * 0.07, at=(x * radius, y * radius)) for x, y in SMALL_BORES]
    plate = Prism(outline=outline, holes=tuple(holes), low=0, high=size.thickness)
    return Body(solids=(plate,), length=size.thickness)


SMALL_BORES = ((0.60, -0.30), (-0.60, -0.30), (0.48, 0.0), (-0.48, 0.0))


@shape("block plate", outer=120, inner=18, thickness=6)
def block_plate(size: Size) -> Body:
    """One cheek of a bottom block."""
    r = size.outer / 2
    outline = lobed([(0, 0, r * 0.8), (0, -r * 1.1, r * 0.35)])
    holes = tuple(
        circle(q, at=(x, y))
        for x, y, q in (
            (0.0, 0.0, size.inner / 2),
            (r * 0.55, r * 0.3, r * 0.1),
            (-r * 0.55, r * 0.3, r * 0.1),
            (0.0, -r * 1.1, r * 0.16),
        )
    )
    plate = Prism(outline=outline, holes=holes, low=0, high=size.thickness)
    return Body(solids=(plate,), length=size.thickness)


@shape("cover", outer=176, inner=120, thickness=44)
def cover(size: Size) -> Body:
    """A wheel cover seen from outside: drum, flange with three bolt holes, label field."""
    radius, drum = size.outer / 2, size.inner / 2
    outline, places = _lobed_plate(radius, 0.78)
    flange = min(7.0, size.thickness / 4)
    top = circle(drum)
    field = (closed(circle(drum * 0.86)), closed(rectangle(drum * 1.0, drum * 0.45, corner=3)))
    holes = tuple(circle(radius * 0.055, at=at) for at in places)
    return Body(
        solids=(
            Prism(outline=top, low=0, high=size.thickness - flange, marks=field),
            Prism(outline=outline, holes=holes, low=size.thickness - flange, high=size.thickness),
        ),
        length=size.thickness,
        flange=size.thickness - flange,
    )


@shape("gear case", outer=176, inner=140, thickness=52)
def gear_case(size: Size) -> Body:
    """A gear case seen into its open side: rim with bolt holes, cavity, bearing seats."""
    radius, drum = size.outer / 2, size.inner / 2
    outline, places = _lobed_plate(radius, 0.86)
    rim = min(8.0, size.thickness / 4)
    deep = size.thickness * 0.8
    cavity = circle(drum)
    holes = tuple(circle(radius * 0.055, at=at) for at in places)
    return Body(
        solids=(
            Prism(outline=outline, holes=holes, cavities=((cavity, deep),), low=0, high=rim),
            Prism(outline=circle(drum * 1.06), low=rim, high=size.thickness),
        ),
        length=size.thickness,
    )


@shape("data plate", width=60, height=34, thickness=1)
def data_plate(size: Size) -> Body:
    """A data plate: rounded sheet with lines of writing and corner holes."""
    w, h = size.width, size.height
    rows = tuple(
        np.array([[-0.34 * w, y * h], [reach * w, y * h]])
        for y, reach in ((0.25, 0.30), (0.05, 0.36), (-0.12, 0.12), (-0.28, 0.30))
    )
    holes = tuple(
        circle(h * 0.045, at=(sx * w * 0.44, sy * h * 0.40)) for sx in (1, -1) for sy in (1, -1)
    )
    plate = Prism(
        outline=rectangle(w, h, corner=4),
        holes=holes,
        low=0,
        high=size.thickness,
        marks=rows,
        along="w",
    )
    return Body(solids=(plate,), length=size.thickness)


@shape("tag", width=34, height=56, thickness=1)
def tag(size: Size) -> Body:
    """A warning tag: sheet with an eye and a warning triangle."""
    w, h = size.width, size.height
    outline = rectangle(w, h, corner=w * 0.25)
    tri = np.array([[-0.30 * w, -0.12 * h], [0.30 * w, -0.12 * h], [0.0, 0.20 * h]])
    stem = np.array([[0.0, 0.08 * h], [0.0, -0.02 * h]])
    dot = np.array([[0.0, -0.06 * h], [0.0, -0.08 * h]])
    rows = tuple(np.array([[-0.32 * w, y * h], [0.32 * w, y * h]]) for y in (-0.24, -0.34))
    sheet = Prism(
        outline=outline,
        holes=(circle(w * 0.08, at=(0, h * 0.38)),),
        low=0,
        high=size.thickness,
        marks=(closed(tri), stem, dot, *rows),
    )
    return Body(solids=(sheet,), length=size.thickness)


@shape("lock plate", width=44, height=16, thickness=3)
def lock_plate(size: Size) -> Body:
    outline = rectangle(size.width, size.height, corner=size.height * 0.3)
    holes = tuple(circle(size.height * 0.2, at=(side * size.width * 0.33, 0)) for side in (-1, 1))
    plate = Prism(outline=outline, holes=holes, low=0, high=size.thickness)
    return Body(solids=(plate,), length=size.thickness)


@shape("stripper", width=52, height=46, thickness=10)
def stripper(size: Size) -> Body:
    """The stripper: a fork that lifts the chain out of the pockets."""
    w, h = size.width / 2, size.height / 2
    outline = np.array(
        [
            [-w, -h],
            [w, -h],
            [w, -h * 0.2],
            [w * 0.45, h],
            [w * 0.18, h],
            [w * 0.28, -h * 0.1],
            [-w * 0.28, -h * 0.1],
            [-w * 0.18, h],
            [-w * 0.45, h],
            [-w, -h * 0.2],
        ]
    )
    holes = tuple(circle(h * 0.16, at=(side * w * 0.66, -h * 0.62)) for side in (-1, 1))
    fork = Prism(outline=outline, holes=holes, low=0, high=size.thickness)
    return Body(solids=(fork,), length=size.thickness)


@shape("chain guide", width=30, height=34, thickness=14)
def chain_guide(size: Size) -> Body:
    """A bent guide that keeps the hand chain on its wheel."""
    w, h = size.width / 2, size.height / 2
    turn = np.linspace(-0.2, math.pi + 0.2, 16)
    path = np.vstack(
        [[[w * 0.75, -h]], moved(polar(np.full(16, w * 0.75), turn), 0, h * 0.2), [[-w * 0.75, -h]]]
    )
    outline = ribbon(path, np.full(len(path), w * 0.35))
    return Body(solids=(Prism(outline=outline, low=0, high=size.thickness),), length=size.thickness)


@shape("lever", outer=92, inner=60, thickness=16, height=250)
def lever(size: Size) -> Body:
    """A lever: round head with its bore, tapered arm upwards, grip."""
    r, reach = size.outer / 2, size.height
    half = r * 0.42
    start = math.acos(half / r)
    rim = polar(np.full(40, r), np.linspace(math.pi - start, 2 * math.pi + start, 40))
    arm = np.array([[half * 0.7, reach], [-half * 0.7, reach]])
    outline = np.vstack([rim, arm])
    bolts = tuple(circle(r * 0.07, at=at) for at in around(3, r * 0.84, start=math.pi / 6))
    rib = np.array([[0.0, r * 1.15], [0.0, reach * 0.92]])
    head = Prism(
        outline=outline,
        holes=(circle(size.inner / 2), *bolts),
        low=0,
        high=size.thickness,
        marks=(rib,),
    )
    return Body(solids=(head,), length=size.thickness)


@shape("lever cover", outer=92, inner=30, thickness=12)
def lever_cover(size: Size) -> Body:
    r = size.outer / 2
    bolts = tuple(circle(r * 0.07, at=at) for at in around(3, r * 0.84, start=math.pi / 6))
    plate = Prism(
        outline=circle(r),
        holes=(circle(size.inner / 2), *bolts),
        low=0,
        high=size.thickness,
        marks=(closed(circle(r * 0.68)),),
    )
    return Body(solids=(plate,), length=size.thickness)


@shape("selector", width=16, height=46, thickness=10)
def selector(size: Size) -> Body:
    """The up / neutral / down selector: a boss with a thumb lever."""
    r = size.width / 2
    outline = lobed([(0, 0, r), (0, size.height - r, r * 0.55)])
    boss = Prism(outline=circle(r * 0.6), low=-8, high=0)
    arm = Prism(outline=outline, low=0, high=size.thickness)
    solids: tuple[Solid, ...] = (boss, arm)
    return Body(solids=solids, length=size.thickness)


@shape("tie", outer=26, inner=3, thickness=3)
def tie(size: Size) -> Body:
    """A wire tie with its twisted ends."""
    r = size.outer / 2
    turn = np.linspace(math.pi / 2 + 0.1, 2.5 * math.pi - 0.1, 32)
    loop = polar(np.full(32, r), turn)
    ends = np.array([[0.8, r + 3.0], [-0.8, r + 6.0], [0.8, r + 9.0]])
    flat = np.vstack([loop, ends])
    path = np.column_stack([flat, np.zeros(len(flat))])
    return Body(solids=(Bar(path=path, radius=size.inner / 4),), length=size.thickness)
