"""Blocks: a row of a strand, or a loose part, ready to be placed on the page as one."""

from __future__ import annotations

import attrs
import numpy as np

from hoistwright.drawing.pieces import Piece
from hoistwright.drawing.project import Points
from hoistwright.drawing.shapes import Paint
from hoistwright.drawing.strand import Strand

OVERHANG = 7.0
"""How far a line runs on past the last part of a row when the stack goes on."""


@attrs.frozen(eq=False)
class Layer:
    """Something to draw, after all layers before it: a part, or lines between (no key)."""

    key: str
    paints: tuple[Paint, ...]
    pieces: tuple[Piece, ...] = ()


@attrs.frozen(eq=False)
class Block:
    """`layers` are in drawing order, the furthest first. `stations` tell the stack order."""

    name: str
    layers: tuple[Layer, ...]
    row: int = 0
    stations: tuple[tuple[float, tuple[str, ...]], ...] = ()

    @property
    def boxes(self) -> Points:
        """(n, 4) left, bottom, right, top of every piece."""
        found = [
            (*piece.reserve.min(axis=0), *piece.reserve.max(axis=0))
            for layer in self.layers
            for piece in layer.pieces
        ]
        return np.array(found)


def rows_of(strand: Strand, rows: int) -> list[Block]:
    """The strand cut into `rows` rows of about the same length."""
    spans = _cuts(strand, rows)
    return [
        _row(strand, first, last, number, of=len(spans))
        for number, (first, last) in enumerate(spans)
    ]


def _cuts(strand: Strand, rows: int) -> list[tuple[int, int]]:
    count = len(strand.stations)
    rows = max(1, min(rows, count))
    ends = [t + s.length for t, s in zip(strand.travels, strand.stations, strict=True)]

    def fits(limit: float) -> list[tuple[int, int]]:
        spans, first = [], 0
        for k in range(count):
            if k > first and ends[k] - strand.travels[first] > limit:
                spans.append((first, k))
                first = k
        return [*spans, (first, count)]

    low, high = 0.0, ends[-1] - strand.travels[0] + 1.0
    for _ in range(24):
        middle = (low + high) / 2
        low, high = (low, middle) if len(fits(middle)) <= rows else (middle, high)
    return fits(high)


def _row(strand: Strand, first: int, last: int, number: int, *, of: int) -> Block:
    """One row: parts from far to near, with the lines seen between them in their order."""
    origin = strand.travels[first]
    spans = _line_spans(strand)
    layers: list[Layer] = []
    for k in range(last - 1, first - 1, -1):
        station, travel = strand.stations[k], strand.travels[k] - origin
        by = strand.direction * travel
        end = travel + station.length
        beyond = strand.travels[k + 1] - origin if k + 1 < last else end + OVERHANG
        layers.append(Layer("", _lines(strand, spans, k, (end, beyond))))
        free = {spot: span for spot, span in spans.items() if spot not in station.spots}
        layers.append(Layer("", _lines(strand, free, k, (travel, end), inside=True)))
        layers.append(Layer("", _moved(station.behind, by)))
        layers.extend(_part_layers([piece.moved(by) for piece in station.pieces]))
        layers.append(Layer("", _moved(station.before, by)))
    start = (-OVERHANG, 0.0)
    layers.append(Layer("", _lines(strand, spans, first - 1, start)))
    name = f"{strand.group} {number + 1}" if of > 1 else strand.group
    order = tuple(
        (strand.travels[k], tuple(dict.fromkeys(p.key for p in strand.stations[k].pieces)))
        for k in range(first, last)
    )
    return Block(name, tuple(layer for layer in layers if layer.paints), number, order)


def _part_layers(pieces: list[Piece]) -> list[Layer]:
    """One layer for each part, so that a part is one thing on the page."""
    by_key: dict[str, list[Piece]] = {}
    for piece in pieces:
        by_key.setdefault(piece.key, []).append(piece)
    return [
        Layer(key, tuple(paint for piece in found for paint in piece.paints), tuple(found))
        for key, found in by_key.items()
    ]


def _moved(paints: tuple[Paint, ...], by: Points) -> tuple[Paint, ...]:
    return tuple(attrs.evolve(p, loops=tuple(loop + by for loop in p.loops)) for p in paints)


Spans = dict[tuple[float, float], tuple[int, int]]


def _line_spans(strand: Strand) -> Spans:
    """From which to which station each line runs: between its own parts, on past a row's end."""
    spans: Spans = {}
    for k, station in enumerate(strand.stations):
        for spot in station.spots:
            low, high = spans.get(spot, (k, k))
            spans[spot] = (min(low, k), max(high, k))
    return spans


def _lines(
    strand: Strand, spans: Spans, k: int, between: tuple[float, float], *, inside: bool = False
) -> tuple[Paint, ...]:
    """The pieces of assembly lines in the gap after station k (or within station k)."""
    out = []
    low, high = between
    for (u, v), (start, end) in sorted(spans.items()):
        runs = start < k < end if inside else start <= k < end
        if not runs or high - low < 0.5:
            continue
        at = np.array([[u, v, low], [u, v, high]])
        out.append(Paint("axis", (strand.frame.paper(at),)))
    return tuple(out)
