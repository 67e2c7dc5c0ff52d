"""What of the page is covered by which part, cell by cell (1 mm)."""

from __future__ import annotations

from collections.abc import Sequence

import attrs
import numpy as np

from hoistwright.drawing.project import Points

FREE = 0


@attrs.frozen(eq=False)
class Ground:
    """`owner[y, x]` is 0 where the page is free, else 1 + the number of the part seen there.

    `covered` also counts ground that is kept free for arrows and legends.
    """

    owner: np.ndarray
    covered: np.ndarray

    def seen(self, number: int, points: Points) -> Points:
        """Those of `points` (n, 2) where part `number` is seen; all of them if none is."""
        x = np.clip(points[:, 0].astype(int), 0, self.owner.shape[1] - 1)
        y = np.clip(points[:, 1].astype(int), 0, self.owner.shape[0] - 1)
        mine = self.owner[y, x] == number + 1
        out: Points = points[mine] if mine.any() else points
        return out


def ground(
    width: float, height: float, outlines: Sequence[tuple[int, Points]], kept: Sequence[Points]
) -> Ground:
    """Cover the page with convex outlines, the furthest first; `kept` outlines belong to none."""
    owner = np.zeros((int(np.ceil(height)), int(np.ceil(width))), dtype=np.int32)
    for number, outline in outlines:
        _fill(owner, outline, number + 1)
    covered = owner > 0
    for outline in kept:
        _fill(covered, outline, True)
    return Ground(owner, covered)


def _fill(grid: np.ndarray, outline: Points, value: int | bool) -> None:
    low = np.floor(outline.min(axis=0)).astype(int)
    high = np.ceil(outline.max(axis=0)).astype(int)
    x0, y0 = max(low[0], 0), max(low[1], 0)
    x1, y1 = min(high[0] + 1, grid.shape[1]), min(high[1] + 1, grid.shape[0])
    if x1 <= x0 or y1 <= y0:
        return
    x = np.arange(x0, x1)[None, :] + 0.5
    y = np.arange(y0, y1)[:, None] + 0.5
    edge = np.roll(outline, -1, axis=0) - outline
    turn = 1.0 if _area(outline) > 0 else -1.0
    inside = np.ones((y1 - y0, x1 - x0), dtype=bool)
    for (px, py), (ex, ey) in zip(outline, edge, strict=True):
        slack = 0.35 * float(np.hypot(ex, ey))
        inside &= turn * (ex * (y - py) - ey * (x - px)) >= -slack
    grid[y0:y1, x0:x1][inside] = value


def _area(outline: Points) -> float:
    x, y = outline[:, 0], outline[:, 1]
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))


def summed(grid: np.ndarray) -> np.ndarray:
    """Summed-area table with a zero row and column in front."""
    out = np.zeros((grid.shape[0] + 1, grid.shape[1] + 1), dtype=np.int32)
    out[1:, 1:] = grid.cumsum(axis=0, dtype=np.int32).cumsum(axis=1, dtype=np.int32)
    return out
