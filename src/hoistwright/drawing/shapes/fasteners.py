"""Nuts, bolts, screws, pins, rivets, keys."""

from __future__ import annotations

import math

import numpy as np

from hoistwright.drawing.shapes.body import Bar, Body, Prism, Solid
from hoistwright.drawing.shapes.catalogue import Size, shape
from hoistwright.drawing.shapes.outlines import circle, moved, polygon, rectangle
from hoistwright.drawing.shapes.round import closed


def _threads(low: float, high: float, pitch: float) -> tuple[float, ...]:
    return tuple(np.arange(low + pitch, high, pitch).tolist())


@shape("nut", outer=18, inner=10, thickness=9)
def nut(size: Size) -> Body:
    """A hexagon nut: chamfer circle on its face."""
    bore = circle(size.inner / 2)
    body = Prism(
        outline=polygon(6, size.outer),
        holes=(bore,),
        low=0,
        high=size.thickness,
        marks=(closed(circle(size.outer * 0.47)),),
    )
    return Body(solids=(body,), length=size.thickness)


@shape("castle nut", outer=26, inner=14, thickness=16)
def castle_nut(size: Size) -> Body:
    """A castle nut: slots for a split pin on the side that is seen."""
    crown, half = size.thickness * 0.35, size.outer / 2
    bore = circle(size.inner / 2)
    slots = []
    for k in range(6):
        turn = k * math.pi / 3
        along = np.array([math.cos(turn), math.sin(turn)])
        across = np.array([-along[1], along[0]]) * half * 0.14
        slots += [
            np.array([along * size.inner / 2 + s * across, along * half * 0.9 + s * across])
            for s in (-1, 1)
        ]
    return Body(
        solids=(
            Prism(
                outline=circle(half * 0.92), holes=(bore,), low=0, high=crown, marks=tuple(slots)
            ),
            Prism(outline=polygon(6, size.outer), holes=(bore,), low=crown, high=size.thickness),
        ),
        length=size.thickness,
    )


@shape("bolt", outer=17, inner=10, thickness=60)
def bolt(size: Size) -> Body:
    """A hexagon bolt, its head towards the gear side, thread at the other end."""
    head = size.inner * 0.7
    shank = size.thickness - head
    turns = _threads(0, shank * 0.4, size.inner * 0.22)
    return Body(
        solids=(
            Prism(outline=circle(size.inner / 2), low=0, high=shank, threads=turns),
            Prism(outline=polygon(6, size.outer), low=shank, high=size.thickness),
        ),
        length=size.thickness,
    )


@shape("stay bolt", outer=15, inner=10, thickness=130)
def stay_bolt(size: Size) -> Body:
    """A stay bolt: shouldered in the middle, threaded at both ends."""
    end = size.thickness * 0.2
    pitch = size.inner * 0.25
    thread = circle(size.inner / 2)
    at = [0.0, end, size.thickness - end, size.thickness]
    return Body(
        solids=(
            Prism(outline=thread, low=at[0], high=at[1], threads=_threads(at[0], at[1], pitch)),
            Prism(outline=circle(size.outer / 2), low=at[1], high=at[2]),
            Prism(outline=thread, low=at[2], high=at[3], threads=_threads(at[2], at[3], pitch)),
        ),
        length=size.thickness,
    )


@shape("screw", outer=12, inner=6, thickness=20)
def screw(size: Size) -> Body:
    """A screw with a round slotted head on the side that is seen."""
    head = size.outer * 0.4
    slot = np.array([[-size.outer * 0.3, 0.0], [size.outer * 0.3, 0.0]])
    turns = _threads(head, size.thickness, size.inner * 0.3)
    return Body(
        solids=(
            Prism(outline=circle(size.outer / 2), low=0, high=head, marks=(slot,)),
            Prism(outline=circle(size.inner / 2), low=head, high=size.thickness, threads=turns),
        ),
        length=size.thickness,
    )


@shape("pin", outer=14, thickness=60)
def pin(size: Size) -> Body:
    """A plain pin with chamfered ends."""
    r, end = size.outer / 2, min(size.outer * 0.2, size.thickness / 4)
    return Body(
        solids=(
            Prism(outline=circle(r * 0.8), low=0, high=end),
            Prism(outline=circle(r), low=end, high=size.thickness - end),
            Prism(outline=circle(r * 0.8), low=size.thickness - end, high=size.thickness),
        ),
        length=size.thickness,
    )


@shape("headed pin", outer=20, inner=13, thickness=60)
def headed_pin(size: Size) -> Body:
    """A pin with a head and a cross hole for its split pin."""
    head, r = size.inner * 0.35, size.inner / 2
    length = size.thickness
    return Body(
        solids=(
            Prism(outline=circle(size.outer / 2), low=0, high=head),
            Prism(outline=circle(r), low=head, high=length, threads=(length - size.inner * 0.35,)),
        ),
        length=length,
    )


@shape("grooved pin", outer=14, thickness=34)
def grooved_pin(size: Size) -> Body:
    """A pin with a groove near its end for a retaining ring."""
    r, groove, land = size.outer / 2, size.outer * 0.18, size.outer * 0.2
    return Body(
        solids=(
            Prism(outline=circle(r), low=0, high=land),
            Prism(outline=circle(r * 0.78), low=land, high=land + groove),
            Prism(outline=circle(r), low=land + groove, high=size.thickness),
        ),
        length=size.thickness,
    )


@shape("split pin", outer=4, thickness=34)
def split_pin(size: Size) -> Body:
    """A split pin lying across the axis: eye and two legs."""
    d, length = size.outer, size.thickness
    turn = np.linspace(-0.75 * math.pi, 0.75 * math.pi, 15)
    eye = np.column_stack([-length / 2 + -d * 1.2 * np.cos(turn), d * 1.2 * np.sin(turn)])
    legs = np.array([[length * 0.42, 0.32 * d], [length * 0.52, 0.9 * d]])
    lower = np.array([[length * 0.50, -0.9 * d], [length * 0.40, -0.32 * d]])
    flat = np.vstack([lower, eye, legs])
    path = np.column_stack([flat[:, 0], flat[:, 1], np.full(len(flat), d / 2)])
    return Body(solids=(Bar(path=path, radius=d * 0.30, piece=30),), length=d)


@shape("spring pin", outer=5, thickness=26)
def spring_pin(size: Size) -> Body:
    """A slotted pin lying across the axis."""
    r = size.outer / 2
    body = Prism(
        outline=circle(r, at=(0, r)),
        holes=(circle(r * 0.55, at=(0, r)),),
        low=-size.thickness / 2,
        high=size.thickness / 2,
        along="u",
    )
    return Body(solids=(body,), length=size.outer)


@shape("rivet", outer=9, inner=5, thickness=12)
def rivet(size: Size) -> Body:
    head = size.thickness * 0.25
    solids: tuple[Solid, ...] = (
        Prism(outline=circle(size.outer * 0.36), low=-head * 0.6, high=0),
        Prism(outline=circle(size.outer / 2), low=0, high=head),
        Prism(outline=circle(size.inner / 2), low=head, high=size.thickness),
    )
    return Body(solids=solids, length=size.thickness)


@shape("key", width=7, height=6, thickness=24)
def key(size: Size) -> Body:
    """A parallel key with round ends."""
    outline = rectangle(size.width, size.thickness, corner=size.width / 2)
    body = Prism(
        outline=moved(outline, 0, size.thickness / 2),
        low=-size.height / 2,
        high=size.height / 2,
        along="v",
    )
    return Body(solids=(body,), length=size.thickness)


@shape("knob", outer=36, inner=12, thickness=22)
def knob(size: Size) -> Body:
    """A knob with grip flutes and a hole for its screw."""
    turn = np.arange(48) * (2 * math.pi / 48)
    r = size.outer / 2 * (1 + 0.06 * np.cos(12 * turn))
    outline = np.column_stack([r * np.cos(turn), r * np.sin(turn)])
    bore = (circle(size.inner / 4),)
    rim = (closed(circle(size.outer * 0.36)),)
    return Body(
        solids=(
            Prism(outline=outline, holes=bore, low=0, high=size.thickness * 0.7, marks=rim),
            Prism(outline=circle(size.outer * 0.3), low=size.thickness * 0.7, high=size.thickness),
        ),
        length=size.thickness,
    )


@shape("grip", outer=30, inner=22, thickness=90)
def grip(size: Size) -> Body:
    """A lever's grip: a sleeve with ribs, drawn standing across the axis."""
    r = size.outer / 2
    ribs = tuple((np.arange(1, 8) * size.thickness / 8).tolist())
    sleeve = Prism(
        outline=circle(r, at=(0, r)),
        holes=(circle(size.inner / 2, at=(0, r)),),
        low=0,
        high=size.thickness,
        threads=ribs,
        along="v",
    )
    return Body(solids=(sleeve,), length=size.outer)
