"""Turned parts on an axis: discs, rings, washers, bearings, seals, bushes, rollers."""

from __future__ import annotations

import math

import numpy as np

from hoistwright.drawing.project import Points
from hoistwright.drawing.shapes.body import Body, Prism
from hoistwright.drawing.shapes.catalogue import Size, shape
from hoistwright.drawing.shapes.outlines import (
    circle,
    lobed,
    moved,
    open_ring,
    polar,
    rectangle,
    splined,
    spokes,
)


def ring_of(size: Size, marks: tuple[Points, ...] = ()) -> Prism:
    holes = (circle(size.inner / 2),) if size.inner > 0 else ()
    outline = circle(size.outer / 2)
    return Prism(outline=outline, holes=holes, low=0, high=size.thickness, marks=marks)


def closed(loop: Points) -> Points:
    """A loop as a line that ends where it began."""
    return np.vstack([loop, loop[:1]])


def around(count: int, radius: float, *, start: float = 0.0) -> list[tuple[float, float]]:
    """Places evenly round a circle."""
    step = 2 * math.pi / count
    return [
        (radius * math.cos(start + k * step), radius * math.sin(start + k * step))
        for k in range(count)
    ]


@shape("ring", outer=40, inner=20, thickness=6)
def ring(size: Size) -> Body:
    return Body(solids=(ring_of(size),), length=size.thickness)


@shape("washer", outer=20, inner=11, thickness=2)
def washer(size: Size) -> Body:
    return ring(size)


@shape("lock washer", outer=20, inner=11, thickness=3)
def lock_washer(size: Size) -> Body:
    """A split spring washer: open at one place."""
    outline = open_ring(size.outer / 2, size.inner / 2, gap=0.35, lugs=False)
    return Body(solids=(Prism(outline=outline, low=0, high=size.thickness),), length=size.thickness)


@shape("retaining ring", outer=30, inner=24, thickness=1.6)
def retaining_ring(size: Size) -> Body:
    outline = open_ring(size.outer / 2, size.inner / 2)
    return Body(solids=(Prism(outline=outline, low=0, high=size.thickness),), length=size.thickness)


@shape("friction disc", outer=90, inner=46, thickness=5)
def friction_disc(size: Size) -> Body:
    """A ring with a rayed lining: no hatch, which on a drawing with states would mean one."""
    outer, inner = size.outer / 2, size.inner / 2
    band = outer - inner
    count = int(min(48, max(12, outer * 0.75)))
    rays = spokes(outer - 0.15 * band, inner + 0.15 * band, count)
    edges = (closed(circle(outer - 0.15 * band)), closed(circle(inner + 0.15 * band)))
    lines = (*rays, *edges)
    return Body(solids=(ring_of(size, lines),), length=size.thickness)


@shape("disc hub", outer=92, inner=22, thickness=26)
def disc_hub(size: Size) -> Body:
    """Flange at the gear side, boss towards the discs, splined bore."""
    flange = min(8.0, size.thickness / 3)
    bore = splined(10, size.inner / 2, size.inner / 2 + 2)
    boss = Prism(
        outline=circle(size.outer * 0.24), holes=(bore,), low=0, high=size.thickness - flange
    )
    plate = Prism(outline=circle(size.outer / 2), low=size.thickness - flange, high=size.thickness)
    return Body(solids=(boss, plate), length=size.thickness)


@shape("bearing", outer=52, inner=30, thickness=12)
def bearing(size: Size) -> Body:
    """A ball bearing: two rings with balls between."""
    outer, inner = size.outer / 2, size.inner / 2
    gap = (outer - inner) * 0.3
    middle, ball = (outer + inner) / 2, (outer - inner) * 0.19
    count = max(7, int(math.pi * middle / (ball * 1.35)))
    balls = tuple(closed(circle(ball, at=at, steps=14)) for at in around(count, middle))
    races = (closed(circle(outer - gap)), closed(circle(inner + gap)))
    return Body(solids=(ring_of(size, (*races, *balls)),), length=size.thickness)


@shape("needle bearing", outer=26, inner=18, thickness=16)
def needle_bearing(size: Size) -> Body:
    """A cage of needle rollers: lines along the outside."""
    half, bore = size.outer / 2, size.inner / 2
    end = size.thickness * 0.16
    grooves = tuple(
        np.array(
            [
                [half * 0.86 * math.cos(t), half * 0.86 * math.sin(t)],
                [(bore * 1.06) * math.cos(t), (bore * 1.06) * math.sin(t)],
            ]
        )
        for t in np.arange(14) * (2 * math.pi / 14)
    )
    turn = np.arange(14) * (2 * math.pi / 14)
    radii = np.column_stack([np.full(14, half), np.full(14, half), np.full(14, half * 0.93)])
    angles = turn[:, None] + np.array([0.0, 0.28, 0.36])[None, :]
    fluted = polar(radii.ravel(), angles.ravel())
    hole = (circle(bore),)
    ends = [
        Prism(outline=circle(half), holes=hole, low=low, high=low + end, marks=grooves)
        for low in (0.0, size.thickness - end)
    ]
    rolls = Prism(outline=fluted, holes=hole, low=end, high=size.thickness - end)
    return Body(solids=(ends[0], rolls, ends[1]), length=size.thickness)


@shape("thrust bearing", outer=36, inner=20, thickness=12)
def thrust_bearing(size: Size) -> Body:
    third = size.thickness / 3
    washers = [
        Prism(
            outline=circle(size.outer / 2),
            holes=(circle(size.inner / 2),),
            low=low,
            high=low + third,
        )
        for low in (0.0, 2 * third)
    ]
    row = Prism(
        outline=circle(size.outer / 2 - 2),
        holes=(circle(size.inner / 2),),
        low=third,
        high=2 * third,
        threads=(1.5 * third,),
    )
    return Body(solids=(washers[0], row, washers[1]), length=size.thickness)


@shape("seal", outer=40, inner=24, thickness=6)
def seal(size: Size) -> Body:
    """A lip seal: ring with two rims close to the bore."""
    outer, inner = size.outer / 2, size.inner / 2
    rims = tuple(closed(circle(inner + share * (outer - inner))) for share in (0.3, 0.45, 0.8))
    return Body(solids=(ring_of(size, rims),), length=size.thickness)


@shape("bush", outer=46, inner=38, thickness=12)
def bush(size: Size) -> Body:
    return Body(solids=(ring_of(size),), length=size.thickness)


@shape("spacer", outer=18, inner=11, thickness=46)
def spacer(size: Size) -> Body:
    return Body(solids=(ring_of(size),), length=size.thickness)


@shape("roller", outer=26, inner=10, thickness=28)
def roller(size: Size) -> Body:
    """A guide roller: waisted so that the chain runs in its middle."""
    rim = size.thickness * 0.25
    bore = (circle(size.inner / 2),)
    ends = [
        Prism(outline=circle(size.outer / 2), holes=bore, low=low, high=low + rim)
        for low in (0.0, size.thickness - rim)
    ]
    waist = Prism(outline=circle(size.outer * 0.36), low=rim, high=size.thickness - rim)
    return Body(solids=(ends[0], waist, ends[1]), length=size.thickness)


@shape("shroud", outer=112, inner=100, thickness=20)
def shroud(size: Size) -> Body:
    """A thin guard ring round the brake, with windows for the pawls."""
    notch = [
        closed(moved(rectangle(size.outer * 0.1, size.outer * 0.03), x, y))
        for x, y in around(2, (size.outer + size.inner) / 4, start=0.9)
    ]
    return Body(solids=(ring_of(size, tuple(notch)),), length=size.thickness)


@shape("gasket", outer=176, inner=128, thickness=1.2)
def gasket(size: Size) -> Body:
    """A paper gasket in the gear case's outline, with its bolt holes."""
    radius = size.outer / 2
    places = [(x, y, radius * 0.13) for x, y in stay_places(radius)]
    outline = lobed([(0, 0, radius * 0.80), *places])
    holes = (circle(size.inner / 2), *(circle(radius * 0.055, at=(x, y)) for x, y, _ in places))
    return Body(
        solids=(Prism(outline=outline, holes=holes, low=0, high=size.thickness),),
        length=size.thickness,
    )


def stay_places(radius: float) -> list[tuple[float, float]]:
    """Where stay bolts go through a plate of this radius."""
    return [(radius * u, radius * v) for u, v in STAY]


STAY = ((0.74, 0.50), (-0.74, 0.50), (0.0, -0.88))


def keyed_ring(outer: float, key: float) -> Points:
    """A circle with a keyway cut in."""
    angle = np.linspace(math.pi / 2 + key, math.pi / 2 - key + 2 * math.pi, 40)
    rim = polar(np.full(40, outer), angle)
    deep = outer * 1.25
    slot = np.array([[outer * math.sin(key), deep], [-outer * math.sin(key), deep]])
    return np.vstack([rim, slot])
