"""One drawn instance of a part: its paint on the paper and the outline it takes up."""

from __future__ import annotations

import attrs
import numpy as np

from hoistwright.drawing.project import Frame, Points
from hoistwright.drawing.shapes import Body, Paint, paint

ARROW, LONG_ARROW, ARROW_SHARE = 30.0, 64.0, 0.35
"""Length of an arrow in millimetres of the hoist: a share of the part's outline, within these."""
ARROW_GAP = 5.0
"""From the part to its arrow."""


@attrs.frozen(eq=False)
class Piece:
    """`skin` is convex and holds all that is drawn; `room` adds the arrow's. `shift` moves
    the piece on the paper: paints, skin and room stay as they were made.
    """

    key: str
    paints: tuple[Paint, ...]
    skin: Points
    room: Points
    nearness: float = 0.0
    shift: Points = attrs.Factory(lambda: np.zeros(2))

    @property
    def outline(self) -> Points:
        return self.skin + self.shift

    @property
    def reserve(self) -> Points:
        return self.room + self.shift

    @property
    def arrowed(self) -> bool:
        return self.room is not self.skin

    def moved(self, by: Points) -> Piece:
        """The piece shifted on the paper."""
        return attrs.evolve(self, shift=self.shift + by)

    def at(self, frame: Frame, place: Points) -> Piece:
        """The piece moved to another place (3,) in its frame."""
        nearer = float(frame.nearness(place[None, :])[0])
        moved = self.moved(frame.paper(place[None, :])[0])
        return attrs.evolve(moved, nearness=self.nearness + nearer)


_TURN = np.arange(48) * (2 * np.pi / 48)
_WAYS = np.column_stack([np.cos(_TURN), np.sin(_TURN)])


def skin(points: Points) -> Points:
    """The convex polygon through the outermost points in 48 directions, counter-clockwise."""
    far = np.argmax(points @ _WAYS.T, axis=0)
    keep = far[np.append(True, far[1:] != far[:-1])]
    out: Points = points[keep[:-1] if len(keep) > 1 and keep[0] == keep[-1] else keep]
    return out


def piece_of(
    key: str, body: Body, frame: Frame, at: Points, arrow: int = 0, *, onto: bool = False
) -> Piece:
    """The body drawn with its origin at `at`; `arrow` -1 or 1 adds one on that side of it, along
    its own axis: leading away, or (`onto`) towards it, the way it goes on.
    """
    paints = paint(body, frame, at)
    around = skin(np.vstack([_reach(item) for item in paints]))
    extra = _arrow(body, frame, at, around, arrow, onto=onto) if arrow else []
    loops = [loop for item in extra for loop in item.loops]
    room = skin(np.vstack([around, *loops])) if loops else around
    nearness = float(frame.nearness(at[None, :])[0])
    return Piece(key, (*paints, *extra), around, room, nearness)


def _way_out(frame: Frame, at: Points, around: Points, middle: float, way: int) -> float:
    """How far along its axis, from its middle, an arrow stands clear of the outline: on the face
    of a wide part it would not be seen.
    """
    origin, ahead = frame.paper(np.array([[0.0, 0.0, middle], [0.0, 0.0, middle + way]]) + at)
    step = ahead - origin
    edges = np.roll(around, -1, axis=0) - around
    inward = np.column_stack([-edges[:, 1], edges[:, 0]])
    slope = inward @ step
    room = ((around - origin) * inward).sum(axis=1)
    leaving = slope < -1e-9
    out = np.min(room[leaving] / slope[leaving]) if leaving.any() else 0.0
    return max(float(out), 0.0) + ARROW_GAP


def _reach(item: Paint) -> Points:
    points = np.vstack(item.loops)
    if item.kind != "bar":
        return points
    r = abs(item.width) / 2
    return np.vstack([points + np.array([dx, dy]) for dx in (-r, r) for dy in (-r, r)])


def _arrow(
    body: Body, frame: Frame, at: Points, around: Points, way: int, *, onto: bool
) -> list[Paint]:
    middle = body.length / 2
    start = middle + way * max(middle + ARROW_GAP, _way_out(frame, at, around, middle, way))
    size = float(np.clip(ARROW_SHARE * np.hypot(*np.ptp(around, axis=0)), ARROW, LONG_ARROW))
    far = start + way * size
    tail, tip = (far, start) if onto else (start, far)
    ends = np.array([[0.0, 0.0, tail], [0.0, 0.0, tip]]) + at
    flat = frame.paper(ends)
    along = (flat[1] - flat[0]) / np.hypot(*(flat[1] - flat[0]))
    across = np.array([-along[1], along[0]])
    neck = flat[1] - along * 0.3 * size
    head = np.array([flat[1], neck + across * 0.12 * size, neck - across * 0.12 * size])
    return [Paint("arrow", (np.array([flat[0], neck]),)), Paint("arrow head", (head,))]
