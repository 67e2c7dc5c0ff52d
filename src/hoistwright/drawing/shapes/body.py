"""What shapes are made of: prisms and bent round bars, in a part's own axes (u, v, w).

A body is a few solids. `paint` turns them into faces and lines on the paper, in the order
in which they must be drawn: what is further away first, so that nearer white faces hide it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Literal

import attrs
import numpy as np

from hoistwright.drawing.project import Frame, Points

Along = Literal["u", "v", "w"]
Kind = Literal["face", "wall", "line", "bar", "blank", "axis", "arrow", "arrow head"]

CREASE = math.cos(math.radians(28.0))
"""Edges that turn more sharply than this show a line."""


@attrs.frozen(eq=False)
class Paint:
    """One thing to draw: closed loops to fill, an open line, or a bar of some width.

    A bar has its dark edge line first and its light core second; both run on a little into
    the neighbouring pieces, the core further, so that no joint shows. A bar of negative
    width is a round end.
    """

    kind: Kind
    loops: tuple[Points, ...]
    width: float = 0.0


@attrs.frozen(eq=False, kw_only=True)
class Prism:
    """An outline drawn out along one axis from `low` to `high`.

    `outline` and `holes` are (n, 2) in the other two axes; any turning sense. `cavities` are
    holes with a floor at the given depth, open at the end named by `open_high`. `marks` are
    lines on the face that is seen; `threads` are places along the axis with a line round.
    """

    outline: Points
    low: float
    high: float
    holes: tuple[Points, ...] = ()
    cavities: tuple[tuple[Points, float], ...] = ()
    open_high: bool = False
    marks: tuple[Points, ...] = ()
    threads: tuple[float, ...] = ()
    along: Along = "w"


@attrs.frozen(eq=False, kw_only=True)
class Bar:
    """A round bar bent along `path` (n, 3): chain links, springs, split pins."""

    path: Points
    radius: float
    closed: bool = False
    piece: int = 4
    """Path steps drawn as one piece; pieces are sorted by distance."""


Solid = Prism | Bar


@attrs.frozen(eq=False, kw_only=True)
class Body:
    """A part's solids, its length along w, and where things lie across it.

    `eye` is the place along w where a cross pin goes through; `mouth` where a latch sits.
    """

    solids: tuple[Solid, ...]
    length: float
    eye: float | None = None
    mouth: float | None = None
    flange: float = 0.0
    """Where along w bolts beside the middle meet the part: at a cover's flange, past its drum."""


def turned(body: Body) -> Body:
    """The body turned end for end along w."""
    return attrs.evolve(body, solids=tuple(_turned(s, body.length) for s in body.solids))


def _turned(solid: Solid, length: float) -> Solid:
    if isinstance(solid, Bar):
        return attrs.evolve(solid, path=solid.path * [1, 1, -1] + [0, 0, length])
    if solid.along == "w":
        return attrs.evolve(
            solid,
            low=length - solid.high,
            high=length - solid.low,
            open_high=not solid.open_high,
            threads=tuple(length - at for at in solid.threads),
        )
    return attrs.evolve(
        solid,
        outline=_mirror(solid.outline, length),
        holes=tuple(_mirror(hole, length) for hole in solid.holes),
        marks=tuple(_mirror(mark, length) for mark in solid.marks),
    )


def _mirror(points: Points, length: float) -> Points:
    out: Points = points * [1, -1] + [0, length]
    return out


def paint(body: Body, frame: Frame, at: Points) -> list[Paint]:
    """The body's faces and lines on the paper with its origin at `at` (3,), furthest first."""
    done: list[tuple[float, list[Paint]]] = []
    for solid in body.solids:
        if isinstance(solid, Prism):
            done.append((_prism_nearness(solid, frame), _prism(solid, frame, at)))
        else:
            done.extend(_bar(solid, frame, at))
    done.sort(key=lambda item: item[0])
    return [piece for _, pieces in done for piece in pieces]


_PLANES: dict[Along, tuple[int, int, int]] = {"w": (0, 1, 2), "v": (0, 2, 1), "u": (1, 2, 0)}


def _lifted(prism: Prism, points: Points, level: float) -> Points:
    p, q, r = _PLANES[prism.along]
    out = np.empty((len(points), 3))
    out[:, p], out[:, q], out[:, r] = points[:, 0], points[:, 1], level
    return out


def _prism_nearness(prism: Prism, frame: Frame) -> float:
    middle = (prism.outline.max(axis=0) + prism.outline.min(axis=0)) / 2
    place = _lifted(prism, middle[None, :], (prism.low + prism.high) / 2)
    return float(frame.nearness(place)[0])


def _prism(prism: Prism, frame: Frame, at: Points) -> list[Paint]:
    _, _, r = _PLANES[prism.along]
    front_is_high = frame.viewer[r] > 0
    front, back = (prism.high, prism.low) if front_is_high else (prism.low, prism.high)

    def flat(points: Points, level: float) -> Points:
        return frame.paper(_lifted(prism, points, level) + at)

    open_here = prism.cavities if front_is_high == prism.open_high else ()
    out: list[Paint] = []
    for hole, depth in open_here:
        floor = front - depth if front_is_high else front + depth
        out.append(Paint("wall", (flat(hole, floor),)))
        out.extend(_walls(prism, _wound(hole, inwards=True), front, floor, frame, at))
    for hole in prism.holes:
        level, deep = _hole_end(prism, hole, front, back, frame)
        if deep:
            out.append(Paint("blank", (flat(hole, front),)))
        out.extend(_walls(prism, _wound(hole, inwards=True), front, level, frame, at, open_=deep))
    out.extend(_walls(prism, _wound(prism.outline), front, back, frame, at))
    out.extend(_thread_lines(prism, frame, at))
    loops = [prism.outline, *prism.holes, *(hole for hole, _ in open_here)]
    out.append(Paint("face", tuple(flat(loop, front) for loop in loops)))
    out.extend(Paint("line", (flat(mark, front),)) for mark in prism.marks)
    return out


def _wound(loop: Points, *, inwards: bool = False) -> Points:
    """The loop turning so that material lies on its left."""
    x, y = loop[:, 0], loop[:, 1]
    area = float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
    return loop if (area > 0) != inwards else loop[::-1]


def _hole_end(
    prism: Prism, hole: Points, front: float, back: float, frame: Frame
) -> tuple[float, bool]:
    """How deep a hole's wall is drawn: no deeper than can be seen past its rim."""
    _, _, r = _PLANES[prism.along]
    sideways = math.sqrt(max(1.0 - float(frame.viewer[r]) ** 2, 1e-9))
    lean = sideways / max(abs(float(frame.viewer[r])), 1e-9)
    sight = float(np.ptp(hole, axis=0).min()) / lean
    depth = abs(back - front)
    if depth < sight:
        return back, False
    return front + math.copysign(sight, back - front), True


def _walls(
    prism: Prism,
    loop: Points,
    front: float,
    back: float,
    frame: Frame,
    at: Points,
    *,
    open_: bool = False,
) -> list[Paint]:
    p, q, _ = _PLANES[prism.along]
    edge = np.roll(loop, -1, axis=0) - loop
    length = np.hypot(edge[:, 0], edge[:, 1])
    normal = np.column_stack([edge[:, 1], -edge[:, 0]]) / np.maximum(length, 1e-9)[:, None]
    seen = normal @ frame.viewer[[p, q]] > 1e-9
    smooth = np.einsum("ij,ij->i", normal, np.roll(normal, 1, axis=0)) > CREASE
    near, far = _lifted(prism, loop, front), _lifted(prism, loop, back)
    flat_near, flat_far = frame.paper(near + at), frame.paper(far + at)
    close = frame.nearness(near)
    found: list[tuple[float, Paint]] = []
    for run in _runs(seen, smooth):
        front_side, back_side = flat_near[run], flat_far[run]
        loops: tuple[Points, ...] = (np.vstack([front_side, back_side[::-1]]),)
        found.append((float(close[run].mean()), Paint("blank" if open_ else "wall", loops)))
    found.sort(key=lambda item: item[0])
    return [piece for _, piece in found]


def _runs(seen: np.ndarray, smooth: np.ndarray) -> list[np.ndarray]:
    """Vertex runs of walls that are seen and join smoothly; edge i goes from vertex i to i+1."""
    count = len(seen)
    if not seen.any():
        return []
    breaks = [i for i in range(count) if seen[i] and not (seen[i - 1] and smooth[i])]
    if not breaks:
        breaks = [int(np.argmax(seen))]
    runs = []
    for first in breaks:
        last = first + 1
        while seen[last % count] and smooth[last % count] and last - first < count:
            last += 1
        runs.append(np.arange(first, last + 1) % count)
    return runs


def _thread_lines(prism: Prism, frame: Frame, at: Points) -> Iterable[Paint]:
    if not prism.threads:
        return
    p, q, _ = _PLANES[prism.along]
    loop = _wound(prism.outline)
    edge = np.roll(loop, -1, axis=0) - loop
    seen = np.column_stack([edge[:, 1], -edge[:, 0]]) @ frame.viewer[[p, q]] > 0
    first = next((i for i in range(len(seen)) if seen[i] and not seen[i - 1]), 0)
    run = np.arange(first, first + int(seen.sum()) + 1) % len(seen)
    for level in prism.threads:
        yield Paint("line", (frame.paper(_lifted(prism, loop[run], level) + at),))


def _bar(bar: Bar, frame: Frame, at: Points) -> list[tuple[float, list[Paint]]]:
    path = np.vstack([bar.path, bar.path[:1]]) if bar.closed else bar.path
    flat, close = frame.paper(path + at), frame.nearness(path)
    width = 2 * bar.radius
    out: list[tuple[float, list[Paint]]] = []
    last = len(path) - 1
    for first in range(0, last, bar.piece):
        end = min(first + bar.piece, last)
        run = flat[first : end + 1]
        before = flat[first - 1] if first else (flat[-2] if bar.closed else flat[0])
        after = flat[end + 1] if end < last else (flat[1] if bar.closed else flat[-1])
        edge, core = (
            np.vstack([run[0] + (before - run[0]) * on, run, run[-1] + (after - run[-1]) * on])
            for on in (0.2, 0.5)
        )
        pieces = [Paint("bar", (edge, core), width)]
        if not bar.closed and (first == 0 or end == last):
            tip = flat[0] if first == 0 else flat[-1]
            dot = np.array([tip, (tip[0] + 1e-3, tip[1])])
            pieces.insert(0, Paint("bar", (dot, dot), -width))
        out.append((float(close[first : end + 1].mean()), pieces))
    return out
