"""A page's blocks in page millimetres, y downwards: what is left is to write it down."""

from __future__ import annotations

from collections.abc import Sequence

import attrs
import numpy as np

from hoistwright.drawing.marks import JOIN
from hoistwright.drawing.page import Page
from hoistwright.drawing.pieces import Piece
from hoistwright.drawing.project import Points
from hoistwright.drawing.shapes import Paint

_TURN = np.array([1.0, -1.0])


@attrs.frozen(eq=False)
class PaperLayer:
    """A part's paint, or assembly lines (no key)."""

    key: str
    paints: tuple[Paint, ...]


@attrs.frozen(eq=False)
class Paper:
    """`layers` and `outlines` are in drawing order. `kept` must stay free of balloons;
    `joins` are the letters of lines that go on elsewhere, and where they stand.
    """

    layers: tuple[PaperLayer, ...]
    outlines: tuple[tuple[str, Points], ...]
    kept: tuple[Points, ...]
    joins: tuple[tuple[str, Points], ...]

    def ink(self) -> dict[str, Points]:
        """Points on the lines of each part: where a leader can touch it."""
        return {
            layer.key: np.vstack([p.loops[0] for p in layer.paints if p.kind in ("face", "bar")])
            for layer in self.layers
            if layer.key
        }


def on_paper(page: Page) -> Paper:
    """Everything on the page, scaled, shifted and turned over."""
    layers: list[PaperLayer] = []
    outlines: list[tuple[str, Points]] = []
    kept: list[Points] = []
    size = _TURN * page.scale
    for spot in page.placed:
        by = np.array([spot.shift[0], page.height - spot.shift[1]])
        for layer in spot.block.layers:
            lines = tuple(Paint("axis", (line * size + by,)) for line in layer.lines)
            layers.append(PaperLayer(layer.key, lines + _paints(layer.pieces, size, by)))
            outlines.extend((piece.key, piece.outline * size + by) for piece in layer.pieces)
            kept.extend(p.reserve * size + by for p in layer.pieces if p.arrowed)
    joins = _joins(page, size)
    kept.extend(_square(at) for _, at in joins)
    return Paper(tuple(layers), tuple(outlines), tuple(kept), joins)


def _paints(pieces: Sequence[Piece], size: Points, by: Points) -> tuple[Paint, ...]:
    return tuple(
        attrs.evolve(
            item, loops=tuple(loop * size + (piece.shift * size + by) for loop in item.loops)
        )
        for piece in pieces
        for item in piece.paints
    )


def _joins(page: Page, size: Points) -> tuple[tuple[str, Points], ...]:
    letters: dict[tuple[str, int], str] = {}
    out = []
    for spot in page.placed:
        by = np.array([spot.shift[0], page.height - spot.shift[1]])
        for join in spot.block.joins:
            name = (join.name or spot.block.group, -1 if join.name else join.number)
            letter = letters.setdefault(name, chr(ord("A") + len(letters)))
            out.append((letter, join.at * size + by))
    return tuple(out)


def _square(at: Points) -> Points:
    half = JOIN / 2
    out: Points = at + np.array([[-half, -half], [half, -half], [half, half], [-half, half]])
    return out
