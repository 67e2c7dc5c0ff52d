"""Numbered balloons: near their part, on free paper, never on each other, leaders uncrossed.

Each part looks at the free places round it and takes the cheapest: a short leader that
crosses no other leader, balloon or part. All then look again, knowing the others.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs
import numpy as np

from hoistwright.drawing.ground import Ground, summed
from hoistwright.drawing.project import Points

RADIUS = 3.1
SIGN = 4.8
"""Width that a state sign adds at the balloon's right."""
GAP = 0.7
_REACHES = (22, 60, 400)
_MOST = 130
_PASSES = 2
_CROSSING, _THROUGH, _OVER = 400.0, 300.0, 5.0
_FINE = 7.0
"""A place this cheap is not looked at again."""
_GOOD = 30.0
"""A place this cheap is taken without looking further afield."""


@attrs.frozen(eq=False)
class Wanted:
    """A balloon to place: its part's number on the ground, points where the part has ink,
    and whether the balloon carries a sign.
    """

    key: str
    text: str
    part: int
    ink: Points
    signed: bool = False

    @property
    def right(self) -> float:
        return RADIUS + (SIGN if self.signed else 0.0)


@attrs.frozen(eq=False)
class Balloon:
    """Placed: centre of the circle, and where its leader touches the part."""

    key: str
    text: str
    centre: tuple[float, float]
    foot: tuple[float, float]
    signed: bool = False

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom of balloon and sign together."""
        x, y = self.centre
        return x - RADIUS, y - RADIUS, x + RADIUS + (SIGN if self.signed else 0.0), y + RADIUS


@attrs.define(eq=False)
class _Board:
    """What is placed so far, in arrays: row k belongs to balloon k, NaN while it is not placed."""

    centre: Points
    foot: Points
    right: Points

    @property
    def placed(self) -> np.ndarray:
        out: np.ndarray = ~np.isnan(self.centre[:, 0])
        return out

    def near(self, points: Points) -> np.ndarray:
        """Placed balloons whose leader comes close to the box round `points`."""
        low, high = points.min(axis=0) - 2 * RADIUS, points.max(axis=0) + 2 * RADIUS
        first, last = np.minimum(self.centre, self.foot), np.maximum(self.centre, self.foot)
        out: np.ndarray = ((last >= low) & (first <= high)).all(axis=1)  # NaN is nowhere
        return out


def balloons(
    wanted: Sequence[Wanted], ground: Ground, *, floor: float | None = None
) -> tuple[list[Balloon], float]:
    """Place all balloons; also returns the page height they need (more than given if crowded)."""
    count = len(wanted)
    height = float(ground.covered.shape[0]) if floor is None else floor
    board = _Board(
        np.full((count, 2), np.nan),
        np.full((count, 2), np.nan),
        np.array([item.right for item in wanted]) if count else np.zeros(0),
    )
    feet = [_feet(ground.seen(item.part, item.ink)) for item in wanted]
    kinds = {item.signed for item in wanted}
    clear = {signed: _clear(ground, height, signed=signed) for signed in kinds}
    order = sorted(range(count), key=lambda k: (_room(feet[k], clear[wanted[k].signed]), k))
    overflow = 0
    cost = np.full(count, np.inf)
    for turn in range(_PASSES):
        for k in order:
            if turn and cost[k] < _FINE:
                continue
            before = board.centre[k].copy(), board.foot[k].copy()
            board.centre[k] = np.nan
            spot = _best(k, feet[k], clear[wanted[k].signed], board, ground, wanted[k].part)
            if spot is not None:
                board.centre[k], board.foot[k], cost[k] = spot
            elif turn:
                board.centre[k], board.foot[k] = before
            else:
                board.centre[k] = _below(height, overflow, ground.covered.shape[1])
                board.foot[k] = feet[k][0]
                overflow += 1
    rows = math.ceil(overflow / max(1, _per_row(ground.covered.shape[1])))
    placed = [
        Balloon(item.key, item.text, _pair(board.centre[k]), _pair(board.foot[k]), item.signed)
        for k, item in enumerate(wanted)
    ]
    return placed, height + rows * (2 * RADIUS + GAP) + (2 * GAP if rows else 0.0)


def _pair(point: Points) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _per_row(width: float) -> int:
    return int((width - 4) / (2 * RADIUS + SIGN + GAP))


def _below(height: float, number: int, width: float) -> Points:
    """Places in rows under the page, for when the page is full."""
    row, column = divmod(number, max(1, _per_row(width)))
    x = 2 + RADIUS + column * (2 * RADIUS + SIGN + GAP)
    return np.array([x, height + GAP + RADIUS + row * (2 * RADIUS + GAP)])


def _feet(ink: Points) -> Points:
    """Where a leader may end: the part's outermost ink in sixteen directions, a bit inwards."""
    turn = np.arange(16) * (math.pi / 8) + 0.2
    way = np.column_stack([np.cos(turn), np.sin(turn)])
    edge = ink[np.argmax(ink @ way.T, axis=0)]
    inward = ink.mean(axis=0) - edge
    far = np.hypot(inward[:, 0], inward[:, 1])
    step = np.minimum(0.45, far * 0.3) / np.maximum(far, 1e-9)
    out: Points = np.unique(edge + inward * step[:, None], axis=0)
    return out


def _clear(ground: Ground, height: float, *, signed: bool) -> np.ndarray:
    """Cells where a balloon's centre may stand with nothing under it."""
    total = summed(ground.covered[: int(height)])
    rows, columns = int(height), ground.covered.shape[1]
    left = math.ceil(RADIUS + 0.3)
    right = left + (math.ceil(SIGN) if signed else 0)
    out = np.zeros((rows, columns), dtype=bool)
    y = np.arange(left, rows - left)
    x = np.arange(left, columns - right)
    if not len(x) or not len(y):
        return out
    box = (
        total[np.ix_(y + left, x + right)]
        - total[np.ix_(y - left, x + right)]
        - total[np.ix_(y + left, x - left)]
        + total[np.ix_(y - left, x - left)]
    )
    out[np.ix_(y, x)] = box == 0
    return out


def _room(feet: Points, clear: np.ndarray) -> int:
    """Free cells close by: parts with the fewest choose first."""
    x, y = feet.mean(axis=0).astype(int)
    reach = 16
    near = clear[max(0, y - reach) : y + reach, max(0, x - reach) : x + reach]
    return int(near.sum())


def _candidates(feet: Points, clear: np.ndarray, reach: int) -> tuple[Points, Points]:
    """Free places within reach and for each the nearest foot; the nearest places first."""
    x0, y0 = np.maximum(feet.min(axis=0).astype(int) - reach, 0)
    x1, y1 = feet.max(axis=0).astype(int) + reach
    y, x = np.nonzero(clear[y0:y1, x0:x1])
    spots = np.column_stack([x + x0, y + y0]).astype(float)
    if not len(spots):
        return spots, spots
    apart = np.hypot(spots[:, None, 0] - feet[None, :, 0], spots[:, None, 1] - feet[None, :, 1])
    which = np.argmin(apart, axis=1)
    far = apart[np.arange(len(spots)), which]
    keep = np.nonzero(far > RADIUS + 1.5)[0]
    keep = keep[np.argsort(far[keep], kind="stable")]
    if len(keep) > _MOST:  # all of the near ones, a sample of the others
        keep = np.concatenate([keep[: _MOST // 2], keep[_MOST // 2 :: len(keep) // _MOST + 1]])
    return spots[keep], feet[which[keep]]


def _best(
    k: int, feet: Points, clear: np.ndarray, board: _Board, ground: Ground, part: int
) -> tuple[Points, Points, float] | None:
    best: tuple[Points, Points, float] | None = None
    for reach in _REACHES:
        spots, foot = _candidates(feet, clear, reach)
        spots, foot = _apart(k, spots, foot, board)
        if len(spots):
            cost = _cost(spots, foot, board, ground, part)
            at = int(np.argmin(cost))
            if best is None or cost[at] < best[2]:
                best = spots[at], foot[at], float(cost[at])
        if best is not None and (best[2] < _GOOD or reach == _REACHES[1]):
            break
    return best


def _apart(k: int, spots: Points, foot: Points, board: _Board) -> tuple[Points, Points]:
    """Only places whose balloon, sign included, touches no placed one."""
    others = board.placed
    if not others.any() or not len(spots):
        return spots, foot
    dx = spots[:, None, 0] - board.centre[None, others, 0]
    dy = np.abs(spots[:, None, 1] - board.centre[None, others, 1])
    right_of = dx < board.right[None, others] + RADIUS + GAP
    left_of = -dx < board.right[k] + RADIUS + GAP
    hit = right_of & left_of & (dy < 2 * RADIUS + GAP)
    fine = ~hit.any(axis=1)
    return spots[fine], foot[fine]


def _cost(spots: Points, foot: Points, board: _Board, ground: Ground, part: int) -> Points:
    length = np.hypot(*(spots - foot).T)
    share = np.linspace(0.12, 0.95, 14)[None, :, None]
    walk = foot[:, None, :] * (1 - share) + spots[:, None, :] * share
    x = np.clip(walk[..., 0].astype(int), 0, ground.owner.shape[1] - 1)
    y = np.clip(walk[..., 1].astype(int), 0, ground.owner.shape[0] - 1)
    owner = ground.owner[y, x]
    over = ((owner > 0) & (owner != part + 1)).sum(axis=1) * (length / 14)
    cost = length + _OVER * over
    others = board.near(np.vstack([spots, foot]))
    if others.any():
        centre, ends = board.centre[others], board.foot[others]
        cost = cost + _CROSSING * _crossings(spots, foot, centre, ends)
        cost = cost + _THROUGH * (
            _near(spots, foot, centre).sum(axis=1) + _near(centre, ends, spots).sum(axis=0)
        )
    out: Points = cost
    return out


def _crossings(a: Points, b: Points, c: Points, d: Points) -> Points:
    """How many segments c-d each segment a-b crosses."""

    def side(p: Points, q: Points, r: Points) -> Points:
        out: Points = (q[..., 0] - p[..., 0]) * (r[..., 1] - p[..., 1]) - (
            q[..., 1] - p[..., 1]
        ) * (r[..., 0] - p[..., 0])
        return out

    a, b, c, d = a[:, None, :], b[:, None, :], c[None, :, :], d[None, :, :]
    hit = (side(a, b, c) * side(a, b, d) < 0) & (side(c, d, a) * side(c, d, b) < 0)
    out: Points = hit.sum(axis=1).astype(float)
    return out


def _near(a: Points, b: Points, points: Points) -> Points:
    """Which of `points` lie within a balloon's radius of each segment a-b, (segments, points)."""
    step = b - a
    length = np.maximum((step**2).sum(axis=1), 1e-9)
    away = points[None, :, :] - a[:, None, :]
    share = np.clip((away * step[:, None, :]).sum(axis=2) / length[:, None], 0, 1)
    apart = away - share[..., None] * step[:, None, :]
    out: Points = (np.hypot(apart[..., 0], apart[..., 1]) < RADIUS + 0.6).astype(float)
    return out
