"""Blocks: a row of a strand, or a loose part, ready to be placed on the page as one."""

from __future__ import annotations

from collections.abc import Sequence

import attrs
import numpy as np

from hoistwright.drawing.pieces import Piece
from hoistwright.drawing.project import Points


@attrs.frozen(eq=False)
class Join:
    """Where a line goes on elsewhere. Without a name: the middle line of a row, whose join
    `number` ends row `number`; with one, the tie of that name.
    """

    number: int
    at: Points
    name: str = ""


@attrs.frozen(eq=False)
class Layer:
    """Something to draw after all layers before it: the pieces of one part, or lines."""

    key: str = ""
    pieces: tuple[Piece, ...] = ()
    lines: tuple[Points, ...] = ()


@attrs.frozen(eq=False)
class Block:
    """`layers` are in drawing order, the furthest first. `stations` tell the stack order."""

    name: str
    group: str
    layers: tuple[Layer, ...]
    row: int = 0
    stations: tuple[tuple[float, tuple[str, ...]], ...] = ()
    joins: tuple[Join, ...] = ()
    boxes: Points = attrs.field(init=False)
    """(n, 4) left, bottom, right, top of every piece and every stretch of line."""

    @boxes.default
    def _boxes(self) -> Points:
        found = [piece.reserve for layer in self.layers for piece in layer.pieces]
        found += [line for layer in self.layers for line in layer.lines]
        return outer_boxes(boxes_of(found))


def boxes_of(outlines: Sequence[Points]) -> Points:
    """The boxes (n, 4) left, bottom, right, top round outlines."""
    return np.array([(*item.min(axis=0), *item.max(axis=0)) for item in outlines])


def outer_boxes(boxes: Points) -> Points:
    """The boxes that lie in no other (lines mostly run within what they connect)."""
    boxes = np.unique(boxes, axis=0)
    low, high = boxes[:, :2], boxes[:, 2:]
    inside = ((low[:, None] >= low[None]) & (high[:, None] <= high[None])).all(axis=2)
    out: Points = boxes[inside.sum(axis=1) == 1]  # each lies in itself
    return out
