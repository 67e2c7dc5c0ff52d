"""One drawn instance of a part: its paint on the paper and the outline it takes up."""

from __future__ import annotations

import attrs
import numpy as np

from hoistwright.drawing.project import Frame, Points
from hoistwright.drawing.shapes import Body, Paint, paint
from hoistwright.drawing.shapes.outlines import hull

ARROW = 26.0
"""Length of a take-off arrow, in millimetres of the hoist."""


@attrs.frozen(eq=False)
class Piece:
    """`outline` is the convex skin of what is drawn; `reserve` adds the arrow's room."""

    key: str
    paints: tuple[Paint, ...]
    outline: Points
    reserve: Points
    nearness: float = 0.0

    def moved(self, by: Points) -> Piece:
        """The piece shifted on the paper."""
        paints = tuple(
            attrs.evolve(p, loops=tuple(loop + by for loop in p.loops)) for p in self.paints
        )
        return attrs.evolve(
            self, paints=paints, outline=self.outline + by, reserve=self.reserve + by
        )


def piece_of(key: str, body: Body, frame: Frame, at: Points, arrow: int = 0) -> Piece:
    """The body drawn with its origin at `at`; `arrow` -1 or 1 adds one along its own axis."""
    paints = paint(body, frame, at)
    outline = hull(np.vstack([_reach(item) for item in paints]))
    extra = _arrow(body, frame, at, arrow) if arrow else []
    reserve = hull(np.vstack([outline, *(loop for item in extra for loop in item.loops)]))
    nearness = float(frame.nearness(at[None, :])[0])
    return Piece(key, (*paints, *extra), outline, reserve, nearness)


def _reach(item: Paint) -> Points:
    points = np.vstack(item.loops)
    if item.kind != "bar":
        return points
    r = abs(item.width) / 2
    return np.vstack([points + [dx, dy] for dx in (-r, r) for dy in (-r, r)])


def _arrow(body: Body, frame: Frame, at: Points, way: int) -> list[Paint]:
    start = -5.0 if way < 0 else body.length + 5.0
    tip = start + way * ARROW
    ends = np.array([[0.0, 0.0, start], [0.0, 0.0, tip]]) + at
    flat = frame.paper(ends)
    along = (flat[1] - flat[0]) / np.hypot(*(flat[1] - flat[0]))
    across = np.array([-along[1], along[0]])
    neck = flat[1] - along * 9.0
    head = np.array([flat[1], neck + across * 3.6, neck - across * 3.6])
    return [Paint("arrow", (np.array([flat[0], neck]),)), Paint("arrow head", (head,))]
