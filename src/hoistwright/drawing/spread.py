"""How far apart things must stand on a line so that each can be seen.

Outlines slide along a direction on the paper. A profile holds, for each narrow strip along
that direction, how far forward the things already placed reach; the next outline stops
where its own back edge comes within the gap of it.
"""

from __future__ import annotations

import math

import attrs
import numpy as np

from hoistwright.drawing.project import Points

STRIP = 1.5
_HALF = 420
_EMPTY = -1e9
_MARGIN = 2
"""Strips on each side that an outline takes up besides its own: things pass with clear paper."""


def _edge_points(outline: Points) -> Points:
    """Points along the outline's edges, closer than a strip."""
    ends = np.roll(outline, -1, axis=0)
    steps = max(2, math.ceil(float(np.hypot(*(ends - outline).T).max()) / STRIP) + 1)
    share = np.linspace(0, 1, steps)[None, :, None]
    walk = outline[:, None, :] * (1 - share) + ends[:, None, :] * share
    out: Points = walk.reshape(-1, 2)
    return out


@attrs.define(eq=False)
class Slide:
    """Things placed one after another along `direction` (a vector on the paper)."""

    direction: Points
    gap: float
    nest: float = 0.0
    """Share of a wide face that the next wide face may reach behind."""
    _reach: Points = attrs.field(init=False)
    _reach_wide: Points = attrs.field(init=False)

    def __attrs_post_init__(self) -> None:
        self._reach = np.full(2 * _HALF, _EMPTY)
        self._reach_wide = np.full(2 * _HALF, _EMPTY)

    def _strips(self, outline: Points) -> tuple[Points, Points]:
        unit = self.direction / np.hypot(*self.direction)
        points = _edge_points(outline)
        along = points @ unit
        across = points @ np.array([-unit[1], unit[0]])
        strip = np.clip(np.round(across / STRIP).astype(int) + _HALF, 1, 2 * _HALF - 2)
        low, high = np.full(2 * _HALF, -_EMPTY), np.full(2 * _HALF, _EMPTY)
        np.minimum.at(low, strip, along)
        np.maximum.at(high, strip, along)
        return low, high

    def room(self, outlines: list[Points]) -> float:
        """Least travel along the direction (in its own lengths) that clears what stands."""
        need = _EMPTY
        for outline in outlines:
            low, _ = self._strips(outline)
            reach = self._reach_wide if _wide(low) else self._reach
            need = max(need, float((reach - low).max()))
        return (need + self.gap) / float(np.hypot(*self.direction)) if need > -1e8 else -1e9

    def put(self, outlines: list[Points], travel: float) -> None:
        """Let `outlines` stand, moved by `travel`."""
        length = float(np.hypot(*self.direction)) * travel
        for outline in outlines:
            low, high = self._strips(outline)
            give = self.nest * (high - low) if _wide(low) else 0.0
            there = high > _EMPTY
            for reach, edge in ((self._reach, high), (self._reach_wide, high - give)):
                moved = np.where(there, edge + length, _EMPTY)
                for shift in range(_MARGIN + 1):
                    np.maximum(reach[shift:], moved[: len(moved) - shift], out=reach[shift:])
                    np.maximum(
                        reach[: len(moved) - shift], moved[shift:], out=reach[: len(moved) - shift]
                    )


def _wide(low: Points) -> bool:
    """Whether an outline is a wide face: one that still reads when partly covered."""
    return int((low < -_EMPTY).sum()) * STRIP > 62.0
