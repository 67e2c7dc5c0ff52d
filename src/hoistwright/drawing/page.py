"""The page: blocks placed so that none covers another, as large as they will go."""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs
import numpy as np

from hoistwright.drawing.axes import SHAFT_GROUP
from hoistwright.drawing.blocks import Block
from hoistwright.drawing.project import Points
from hoistwright.drawing.rows import rows_of
from hoistwright.drawing.scene import Scene

CELL = 2.5
MARGIN = 4.0
CLEAR = 3.4
"""Paper kept free round every part, in millimetres: room for leaders and balloons."""
LARGEST = 1.3
"""Paper millimetres per millimetre of the hoist: small parts are not blown up without end."""
WORTH, WORTH_OF_MANY, WORTH_HANGING = 1.35, 1.03, 1.35
"""What another cut must gain in scale: whole lines are easier to follow, but the more parts
there are the more size counts."""
_MOST_ROWS = 4
CLOSE = 3
"""So few blocks stand side by side, not in the corners of the page."""
_FEW = 12
"""With more than so many stations on the shaft, what hangs is not cut."""


@attrs.frozen(eq=False)
class Placed:
    """A block on the page: paper = shift + scale * point, y still upwards."""

    block: Block
    shift: Points


@attrs.frozen(eq=False)
class Page:
    width: float
    height: float
    scale: float
    placed: tuple[Placed, ...]


def paged(scene: Scene, width: float, height: float) -> Page:
    """Place the scene on a page of this size (millimetres), at the largest scale that fits."""
    best: Page | None = None
    whole = 1
    for rows, columns in _ways_to_cut(scene):
        blocks = _blocks(scene, rows, columns)
        for side in (1, -1):
            worth = _worth(scene) if columns == whole else WORTH_HANGING
            floor = best.scale * worth if best else 0.0
            page = _largest(blocks, width, height, floor, side)
            if page is not None and (best is None or page.scale > best.scale):
                best, whole = page, columns
    if best is None:  # cannot happen on a page of sensible size; the drawing is then scaled down
        return _stacked(_blocks(scene, 1, 1), width, height)
    return _centred(best)


def _centred(page: Page) -> Page:
    """The page with equal margins left and right, above and below."""
    if not page.placed:
        return page
    boxes = np.vstack([p.block.boxes * page.scale + [*p.shift, *p.shift] for p in page.placed])
    spare = np.array([page.width, page.height]) - boxes[:, 2:].max(axis=0)
    by = (spare - boxes[:, :2].min(axis=0)) / 2
    placed = tuple(attrs.evolve(p, shift=p.shift + by) for p in page.placed)
    return attrs.evolve(page, placed=placed)


def _worth(scene: Scene) -> float:
    many = sum(len(strand.stations) for strand in scene.strands) > _FEW
    return WORTH_OF_MANY if many else WORTH


def _ways_to_cut(scene: Scene) -> list[tuple[int, int]]:
    """Rows for the shaft and columns for what hangs, the simplest first."""
    shaft = [len(s.stations) for s in scene.strands if s.group == SHAFT_GROUP]
    hanging = [len(s.stations) for s in scene.strands if s.group != SHAFT_GROUP]
    most_rows = min(_MOST_ROWS, max(shaft, default=1))
    few = sum(shaft) <= _FEW
    most_columns = min(2, max(hanging, default=1)) if few else 1
    ways = [(r, c) for c in range(1, most_columns + 1) for r in range(1, most_rows + 1)]
    return ways


def _blocks(scene: Scene, rows: int, columns: int) -> list[Block]:
    out: list[Block] = []
    for strand in scene.strands:
        out.extend(rows_of(strand, rows if strand.group == SHAFT_GROUP else columns))
    return [*out, *scene.loose]


def _largest(
    blocks: Sequence[Block], width: float, height: float, floor: float, side: int
) -> Page | None:
    """The largest scale at which all blocks fit; None where they do not even at `floor`."""
    low, high = max(floor, 0.02), LARGEST
    found = _tried(blocks, width, height, low, side)
    if found is None:
        return None
    top = _tried(blocks, width, height, high, side)
    if top is not None:
        return top
    for _ in range(8):
        middle = math.sqrt(low * high)
        page = _tried(blocks, width, height, middle, side)
        if page is None:
            high = middle
        else:
            low, found = middle, page
    return found


def _tried(
    blocks: Sequence[Block], width: float, height: float, scale: float, side: int
) -> Page | None:
    columns, lines = int((width - 2 * MARGIN) / CELL), int((height - 2 * MARGIN) / CELL)
    taken = np.zeros((lines, columns), dtype=bool)
    placed: dict[int, Placed] = {}
    first_free = 0
    for number in _largest_first(blocks):
        block = blocks[number]
        cells = _cells(block, scale)
        rows, cols = int(cells[:, 3].max()), int(cells[:, 2].max())
        if rows > lines or cols > columns:
            return None
        free = _free(taken, cells, lines - rows + 1, columns - cols + 1)
        if block.row and block.group == SHAFT_GROUP:
            free[: min(first_free, len(free))] = False
        spot = _choice(free, block, lines - rows, columns - cols, side, len(blocks) <= CLOSE)
        if spot is None:
            return None
        if block.group == SHAFT_GROUP:
            first_free = spot[0] + (1 if side > 0 else rows // 2)  # keep the reading order
        for left, top, right, bottom in cells:
            taken[spot[0] + top : spot[0] + bottom, spot[1] + left : spot[1] + right] = True
        placed[number] = Placed(block, _shift(block, scale, spot, height))
    return Page(width, height, scale, tuple(placed[k] for k in sorted(placed)))


def _largest_first(blocks: Sequence[Block]) -> list[int]:
    def rank(number: int) -> tuple[int, float]:
        block = blocks[number]
        if block.group == SHAFT_GROUP:
            return (0, float(block.row))
        size = np.ptp(block.boxes.reshape(-1, 2), axis=0)
        return (1, -float(size[0] * size[1]))

    return sorted(range(len(blocks)), key=rank)


def _cells(block: Block, scale: float) -> np.ndarray:
    """Cells (left, top, right, bottom) of each piece from the block's upper left corner."""
    boxes = block.boxes * scale
    left, top = boxes[:, 0].min() - CLEAR, boxes[:, 3].max() + CLEAR
    edges = np.column_stack(
        [
            np.floor((boxes[:, 0] - CLEAR - left) / CELL),
            np.floor((top - boxes[:, 3] - CLEAR) / CELL),
            np.ceil((boxes[:, 2] + CLEAR - left) / CELL),
            np.ceil((top - boxes[:, 1] + CLEAR) / CELL),
        ]
    )
    whole: np.ndarray = np.maximum(edges.astype(int), 0)  # a corner may come out at -0.0000001
    return whole


def _free(taken: np.ndarray, cells: np.ndarray, rows: int, cols: int) -> np.ndarray:
    """Where the block's corner may stand: no box of it on a taken cell (summed-area table)."""
    total = np.zeros((taken.shape[0] + 1, taken.shape[1] + 1), dtype=np.int32)
    total[1:, 1:] = taken.cumsum(axis=0, dtype=np.int32).cumsum(axis=1, dtype=np.int32)
    free = np.ones((rows, cols), dtype=bool)
    for left, top, right, bottom in cells:
        inside = (
            total[bottom : bottom + rows, right : right + cols]
            - total[top : top + rows, right : right + cols]
            - total[bottom : bottom + rows, left : left + cols]
            + total[top : top + rows, left : left + cols]
        )
        free &= inside == 0
    return free


def _choice(
    free: np.ndarray, block: Block, rows: int, cols: int, side: int, close: bool
) -> tuple[int, int] | None:
    if not free.any():
        return None
    y = np.arange(free.shape[0])[:, None] / max(rows, 1)
    x = np.arange(free.shape[1])[None, :] / max(cols, 1)
    wish = x + 0.2 * abs(y - 0.5) if close else _wish(block, y, x, side)
    cost = np.where(free, wish, np.inf)
    spot = int(np.argmin(cost))
    return spot // free.shape[1], spot % free.shape[1]


def _wish(block: Block, y: np.ndarray, x: np.ndarray, side: int) -> np.ndarray:
    """Where a block would like to be: rows in reading order, top hook up, chains at the foot."""
    if block.group == SHAFT_GROUP:
        rows: np.ndarray = 8 * y + side * x
        return rows
    wishes = {
        "top hook": (0.0, 0.0),
        "bottom hook": (1.0, 1.0),
        "load chain": (1.0, 0.9),
        "hand chain": (1.0, 0.0),
    }
    at = wishes.get(block.group, (1.0, 0.1))
    out: np.ndarray = np.hypot(y - at[0], x - at[1])
    return out


def _shift(block: Block, scale: float, spot: tuple[int, int], height: float) -> Points:
    boxes = block.boxes * scale
    left, top = boxes[:, 0].min() - CLEAR, boxes[:, 3].max() + CLEAR
    corner = np.array([MARGIN + spot[1] * CELL, height - MARGIN - spot[0] * CELL])
    out: Points = corner - [left, top]
    return out


def _stacked(blocks: Sequence[Block], width: float, height: float) -> Page:
    """Last resort for a tiny page: everything at the smallest scale, in the middle."""
    middle = np.array([width / 2, height / 2])
    return Page(width, height, 0.02, tuple(Placed(block, middle) for block in blocks))
