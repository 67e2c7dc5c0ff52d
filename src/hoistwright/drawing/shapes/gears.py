"""Toothed and pocketed wheels, and the shafts that carry them."""

from __future__ import annotations

import math

import numpy as np

from hoistwright.drawing.shapes.body import Body, Prism, Solid
from hoistwright.drawing.shapes.catalogue import Size, shape
from hoistwright.drawing.shapes.outlines import (
    circle,
    sawtoothed,
    scalloped,
    splined,
    toothed,
)
from hoistwright.drawing.shapes.round import around, closed


def _tooth_height(radius: float, teeth: int) -> float:
    """Whole depth 2.25 modules, as standard full-depth teeth have."""
    return 2.25 * 2 * radius / (max(teeth, 6) + 2)


@shape("ratchet disc", outer=108, inner=46, thickness=9, teeth=20)
def ratchet_disc(size: Size) -> Body:
    tip = size.outer / 2
    outline = sawtoothed(size.teeth, tip * 0.84, tip)
    face = (closed(circle(tip * 0.76)),)
    disc = Prism(
        outline=outline, holes=(circle(size.inner / 2),), low=0, high=size.thickness, marks=face
    )
    return Body(solids=(disc,), length=size.thickness)


@shape("gear", outer=132, inner=34, thickness=14, teeth=40)
def gear(size: Size) -> Body:
    """A spur gear with a splined bore and a web."""
    tip = size.outer / 2
    root = tip - _tooth_height(tip, size.teeth)
    bore = splined(12, size.inner / 2, size.inner / 2 + 2)
    web = (closed(circle(root * 0.88)), closed(circle(size.inner * 0.75)))
    holes = [circle(root * 0.16, at=at) for at in around(5, root * 0.62, start=0.3)]
    rim = Prism(
        outline=toothed(size.teeth, root, tip),
        holes=(bore, *holes) if tip > 45 else (bore,),
        low=0,
        high=size.thickness,
        marks=web if tip > 45 else (),
    )
    return Body(solids=(rim,), length=size.thickness)


@shape("layshaft gear", outer=84, inner=20, thickness=64, teeth=32)
def layshaft_gear(size: Size) -> Body:
    """Large gear and small gear in one piece, with a journal at each end; a timing mark."""
    tip = size.outer / 2
    root = tip - _tooth_height(tip, size.teeth)
    small_tip = size.outer * 0.20
    small_root = small_tip - _tooth_height(small_tip, 9)
    journal = circle(size.inner / 2)
    ends, face = size.thickness * 0.16, size.thickness * 0.22
    at = [0.0, ends, ends + face, size.thickness - ends, size.thickness]
    mark = np.array([[0.0, root * 0.55], [0.0, root * 0.95]])
    return Body(
        solids=(
            Prism(outline=journal, low=at[0], high=at[1]),
            Prism(
                outline=toothed(size.teeth, root, tip),
                low=at[1],
                high=at[2],
                marks=(mark, closed(circle(root * 0.9))),
            ),
            Prism(outline=toothed(9, small_root, small_tip), low=at[2], high=at[3]),
            Prism(outline=journal, low=at[3], high=at[4]),
        ),
        length=size.thickness,
    )


@shape("pinion shaft", outer=22, inner=16, thickness=190, teeth=9)
def pinion_shaft(size: Size) -> Body:
    """The drive shaft: brake thread at the wheel side, long shaft, pinion, end journal."""
    length, radius = size.thickness, size.inner / 2
    tip = size.outer / 2
    root = tip - _tooth_height(tip, size.teeth) * 0.9
    cuts = [0.0, 0.10, 0.32, 0.80, 0.93, 1.0]
    at = [length * share for share in cuts]
    pitch = length * 0.022
    turns = tuple(np.arange(at[1] + pitch, at[2], pitch).tolist())
    return Body(
        solids=(
            Prism(outline=circle(radius * 0.75), low=at[0], high=at[1]),
            Prism(outline=circle(radius * 1.25), low=at[1], high=at[2], threads=turns),
            Prism(outline=circle(radius), low=at[2], high=at[3]),
            Prism(outline=toothed(size.teeth, root, tip), low=at[3], high=at[4]),
            Prism(outline=circle(radius * 0.8), low=at[4], high=at[5]),
        ),
        length=length,
    )


@shape("pocket wheel", outer=84, inner=40, thickness=34, teeth=4)
def pocket_wheel(size: Size) -> Body:
    """A load sheave: two flanges with pockets between, a journal at each end."""
    tip, flange = size.outer / 2, size.thickness * 0.22
    lobes = max(3, size.teeth)
    bore = circle(size.inner * 0.28)
    journal = size.thickness * 0.45
    at = [0.0, journal]
    for step in (flange, size.thickness - 2 * flange, flange, journal):
        at.append(at[-1] + step)
    rim = scalloped(lobes * 2, tip * 0.80, tip, steps=max(4, 48 // lobes))
    core = scalloped(lobes * 2, tip * 0.52, tip * 0.60, steps=max(4, 48 // lobes))
    solids: tuple[Solid, ...] = (
        Prism(outline=circle(size.inner / 2), holes=(bore,), low=at[0], high=at[1]),
        Prism(outline=rim, low=at[1], high=at[2]),
        Prism(outline=core, low=at[2], high=at[3]),
        Prism(outline=rim, low=at[3], high=at[4]),
        Prism(outline=circle(size.inner / 2), low=at[4], high=at[5]),
    )
    return Body(solids=solids, length=at[5])


@shape("idle sheave", outer=92, inner=40, thickness=32, teeth=0)
def idle_sheave(size: Size) -> Body:
    """An idle sheave: pocketed (teeth given) or plain, turning on a bearing."""
    tip, flange = size.outer / 2, size.thickness * 0.25
    if size.teeth:
        rim = scalloped(size.teeth * 2, tip * 0.84, tip, steps=max(4, 48 // size.teeth))
    else:
        rim = circle(tip)
    bore = (circle(size.inner / 2),)
    return Body(
        solids=(
            Prism(outline=rim, holes=bore, low=0, high=flange, marks=(closed(circle(tip * 0.6)),)),
            Prism(outline=circle(tip * 0.72), low=flange, high=size.thickness - flange),
            Prism(outline=rim, holes=bore, low=size.thickness - flange, high=size.thickness),
        ),
        length=size.thickness,
    )


@shape("hand chain wheel", outer=150, inner=22, thickness=30, teeth=12)
def hand_chain_wheel(size: Size) -> Body:
    """The hand chain wheel: waved flanges, pockets between, threaded boss, lightening holes."""
    tip, flange = size.outer / 2, size.thickness * 0.2
    rim = scalloped(size.teeth, tip * 0.90, tip, steps=8)
    bore = circle(size.inner / 2)
    openings = tuple(circle(tip * 0.15, at=at) for at in around(5, tip * 0.52, start=math.pi / 2))
    marks = (closed(circle(tip * 0.78)), closed(circle(tip * 0.28)))
    thread = (closed(circle(size.inner / 2 + 2.2)),)
    boss = size.thickness * 0.25
    solids: tuple[Solid, ...] = (
        Prism(outline=circle(tip * 0.26), holes=(bore,), low=0, high=boss, marks=thread),
        Prism(outline=rim, holes=openings, low=boss, high=boss + flange, marks=marks),
        Prism(
            outline=scalloped(size.teeth, tip * 0.74, tip * 0.80, steps=8),
            holes=openings,
            low=boss + flange,
            high=boss + size.thickness - flange,
        ),
        Prism(
            outline=rim,
            holes=openings,
            low=boss + size.thickness - flange,
            high=boss + size.thickness,
        ),
    )
    return Body(solids=solids, length=boss + size.thickness)


@shape("changeover wheel", outer=84, inner=22, thickness=22, teeth=16)
def changeover_wheel(size: Size) -> Body:
    """A lever hoist's changeover wheel: square teeth for the lever pawl, threaded bore."""
    tip = size.outer / 2
    bore = circle(size.inner / 2)
    boss = size.thickness * 0.4
    thread = (closed(circle(size.inner / 2 + 2.2)),)
    return Body(
        solids=(
            Prism(outline=circle(tip * 0.5), holes=(bore,), low=0, high=boss, marks=thread),
            Prism(outline=toothed(size.teeth, tip * 0.82, tip), low=boss, high=size.thickness),
        ),
        length=size.thickness,
    )
