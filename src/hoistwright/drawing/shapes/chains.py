"""Chains: a few links, each turned a quarter against the last."""

from __future__ import annotations

import math

import numpy as np

from hoistwright.drawing.project import Points
from hoistwright.drawing.shapes.body import Bar, Body
from hoistwright.drawing.shapes.catalogue import Size, shape


def _link(pitch: float, wire: float, width: float) -> Points:
    """The centre line of a link in its own plane, along y."""
    half = (width - wire) / 2
    straight = (pitch + wire) / 2 - half
    turn = np.linspace(0, math.pi, 15)
    top = np.column_stack([half * np.cos(turn), straight + half * np.sin(turn)])
    out: Points = np.vstack([top, -top])
    return out


def _links(size: Size, count: int) -> tuple[Bar, ...]:
    wire, pitch, width = size.outer, size.inner, size.width
    flat = _link(pitch, wire, width)
    middle = pitch / 2 + wire
    bars = []
    for k in range(count):
        along = middle + k * pitch + flat[:, 1]
        slant = flat[:, 0] * math.sqrt(0.5)
        side = 1 if k % 2 else -1
        path = np.column_stack([slant, side * slant, along])
        bars.append(Bar(path=path, radius=wire / 2, closed=True, piece=5))
    return tuple(bars)


@shape("load chain", outer=8, inner=24, width=27, teeth=7)
def load_chain(size: Size) -> Body:
    """`teeth` links of wire `outer` and pitch `inner`, hanging."""
    count = size.teeth
    return Body(solids=_links(size, count), length=count * size.inner + 2 * size.outer)


@shape("hand chain", outer=5, inner=24, width=19, teeth=7)
def hand_chain(size: Size) -> Body:
    return load_chain(size)


@shape("joining link", outer=5, inner=24, width=19)
def joining_link(size: Size) -> Body:
    """One link, open at its side."""
    flat = _link(size.inner, size.outer, size.width)
    flat = np.roll(flat, 6, axis=0)[2:]
    at = size.inner / 2 + size.outer
    path = np.column_stack([flat[:, 0], np.zeros(len(flat)), at + flat[:, 1]])
    return Body(
        solids=(Bar(path=path, radius=size.outer / 2, piece=40),),
        length=size.inner + 2 * size.outer,
    )


@shape("end stop", outer=6, inner=22, width=30)
def end_stop(size: Size) -> Body:
    """A chain end stop: a large plain ring."""
    turn = np.linspace(0, 2 * math.pi, 32, endpoint=False)
    r = size.width / 2
    path = np.column_stack([r * np.cos(turn), np.zeros(32), r + size.outer + r * np.sin(turn)])
    return Body(
        solids=(Bar(path=path, radius=size.outer / 2, closed=True, piece=8),),
        length=2 * (r + size.outer),
    )
