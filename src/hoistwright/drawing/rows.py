"""A strand cut into rows, each drawn from far to near with its lines between the parts."""

from __future__ import annotations

import numpy as np

from hoistwright.drawing.blocks import Block, Join, Layer, boxes_of
from hoistwright.drawing.hung import Tie
from hoistwright.drawing.pieces import Piece
from hoistwright.drawing.project import Points
from hoistwright.drawing.strand import Station, Strand

OVERHANG = 7.0
"""How far a line runs on past the last part of a row when the stack goes on."""
LETTER = 16.0
"""Half the room kept for the letter at the middle line's end, in millimetres of the hoist."""
_MIDDLE = (0.0, 0.0)

Spans = dict[tuple[float, float], tuple[int, int]]


def rows_of(strand: Strand, rows: int) -> list[Block]:
    """The strand cut into `rows` rows of about the same length."""
    spans = _cuts(strand, rows)
    return [
        _row(strand, first, last, number, of=len(spans))
        for number, (first, last) in enumerate(spans)
    ]


def _cuts(strand: Strand, rows: int) -> list[tuple[int, int]]:
    """From which to which station each row goes; the longest row as short as can be."""
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
    origin = strand.travels[first]
    spans = _line_spans(strand)
    layers: list[Layer] = []
    for k in range(last - 1, first - 1, -1):
        station, travel = strand.stations[k], strand.travels[k] - origin
        end = travel + station.length
        if k + 1 < last:
            beyond = strand.travels[k + 1] - origin
            layers.append(Layer(lines=_lines(strand, spans, k, (end, beyond))))
        past, front = _beside(strand, spans, k, travel)
        layers.append(Layer(lines=past))
        layers.extend(_standing(station, strand.direction * travel))
        layers.append(Layer(lines=front))
    boxes = boxes_of([piece.reserve for layer in layers for piece in layer.pieces])
    joins, before, after = _ends(strand, spans, (first, last), boxes)
    tied = _tied(strand, (first, last), layers, boxes)
    behind = tuple(line for _, line in tied)
    layers = [Layer(lines=behind), Layer(lines=after), *layers, Layer(lines=before)]
    return Block(
        f"{strand.group} {number + 1}" if of > 1 else strand.group,
        strand.group,
        tuple(layer for layer in layers if layer.key or layer.lines),
        number,
        tuple((strand.travels[k], _keys(strand.stations[k])) for k in range(first, last)),
        (
            *(Join(number + step, at) for step, at in joins),
            *(Join(0, line[1], name) for name, line in tied),
        ),
    )


def _beside(
    strand: Strand, spans: Spans, k: int, travel: float
) -> tuple[tuple[Points, ...], tuple[Points, ...]]:
    """Lines that pass beside what stands at station k: those behind it, and those that run in
    front of a drum to its flange.
    """
    station = strand.stations[k]
    free = {spot: span for spot, span in spans.items() if spot not in station.spots}
    near = {
        spot: span
        for spot, span in free.items()
        if float(strand.frame.nearness(np.array([[*spot, 0.0]]))[0]) > 0 and station.flange
    }
    far = {spot: span for spot, span in free.items() if spot not in near}
    middle, end = travel + station.flange, travel + station.length
    behind = _lines(strand, far, k, (travel, end), inside=True)
    behind += _lines(strand, near, k, (middle, end), inside=True)
    return behind, _lines(strand, near, k, (travel, middle), inside=True)


def _keys(station: Station) -> tuple[str, ...]:
    return tuple(dict.fromkeys(piece.key for piece in station.pieces))


def _standing(station: Station, by: Points) -> list[Layer]:
    """A station's layers, one for each part, so that a part is one thing on the page."""
    by_key: dict[str, list[Piece]] = {}
    for piece in station.pieces:
        by_key.setdefault(piece.key, []).append(piece.moved(by))
    return [
        Layer(lines=tuple(line + by for line in station.behind)),
        *(Layer(key, tuple(found)) for key, found in by_key.items()),
    ]


def _line_spans(strand: Strand) -> Spans:
    """From which to which station each line runs: from its first part to its last."""
    spans: Spans = {}
    for k, station in enumerate(strand.stations):
        for spot in station.spots:
            low, high = spans.get(spot, (k, k))
            spans[spot] = (min(low, k), max(high, k))
    return spans


def _lines(
    strand: Strand, spans: Spans, k: int, between: tuple[float, float], *, inside: bool = False
) -> tuple[Points, ...]:
    """The pieces of assembly lines in the gap after station k (or within station k)."""
    low, high = between
    if high - low < 0.5:
        return ()
    return tuple(
        strand.frame.paper(np.array([[*spot, low], [*spot, high]]))
        for spot, (start, end) in sorted(spans.items())
        if (start < k if inside else start <= k) and k < end
    )


def _ends(
    strand: Strand, spans: Spans, row: tuple[int, int], boxes: Points
) -> tuple[list[tuple[int, Points]], tuple[Points, ...], tuple[Points, ...]]:
    """Lines that run on past a row's beginning and end, and the letters in the middle."""
    first, last = row
    length = strand.travels[last - 1] - strand.travels[first] + strand.stations[last - 1].length
    joins: list[tuple[int, Points]] = []
    lines: tuple[list[Points], list[Points]] = ([], [])
    for side, (k, start, way) in enumerate(((first - 1, 0.0, -1), (last - 1, length, 1))):
        for spot, (low, high) in sorted(spans.items()):
            if not low <= k < high:
                continue
            reach = start + way * OVERHANG
            if spot == _MIDDLE:
                reach = _clear_of(strand, boxes, start, way)
                joins.append((0 if way > 0 else -1, strand.direction * reach))
            lines[side].append(strand.frame.paper(np.array([[*spot, start], [*spot, reach]])))
    return joins, tuple(lines[0]), tuple(lines[1])


def _tied(
    strand: Strand, row: tuple[int, int], layers: list[Layer], boxes: Points
) -> list[tuple[str, Points]]:
    """For each tie that leaves this row its name and its line, from the part to the letter."""
    found = []
    for tie in strand.ties:
        box = _leaves(strand, row, layers, tie)
        if box is None:
            continue
        left, bottom, right, top = box
        x = (left + right) / 2
        start = (bottom + top) / 2 if tie.key else (top if tie.up else bottom)
        end = _free_height(boxes, x, top if tie.up else bottom, 1 if tie.up else -1)
        found.append((tie.name, np.array([[x, start], [x, end]])))
    return found


def _leaves(
    strand: Strand, row: tuple[int, int], layers: list[Layer], tie: Tie
) -> tuple[float, float, float, float] | None:
    """Box of the piece that a tie leaves; None where it stands in another row."""
    first, last = row
    if tie.key:
        own = [piece for layer in layers if layer.key == tie.key for piece in layer.pieces]
    else:
        at = 0 if tie.up else len(strand.stations) - 1
        if not first <= at < last:
            return None
        keys = _keys(strand.stations[at])
        here = [piece for layer in layers if layer.key in keys for piece in layer.pieces]
        own = sorted(here, key=lambda piece: abs(float(piece.outline[:, 0].mean())))  # on the line
    if not own:
        return None
    left, bottom, right, top = boxes_of([own[0].outline])[0].tolist()
    return left, bottom, right, top


def _free_height(boxes: Points, x: float, edge: float, way: int) -> float:
    """How far up or down a letter stands clear of the row's parts."""
    y = edge
    for _ in range(200):
        y += way * 5.0
        near = (boxes[:, 0] < x + LETTER) & (x - LETTER < boxes[:, 2])
        if not (near & (boxes[:, 1] < y + LETTER) & (y - LETTER < boxes[:, 3])).any():
            break
    return y


def _clear_of(strand: Strand, boxes: Points, start: float, way: int) -> float:
    """How far along the middle line a letter stands clear of the row's parts."""
    reach = start
    for _ in range(200):
        reach += way * 5.0
        x, y = strand.direction * reach
        near = (boxes[:, 0] < x + LETTER) & (x - LETTER < boxes[:, 2])
        if not (near & (boxes[:, 1] < y + LETTER) & (y - LETTER < boxes[:, 3])).any():
            break
    return reach
