"""A strand: all parts strung on parallel lines, in stack order, spread until each is seen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs
import numpy as np

from hoistwright.drawing.axes import Axis
from hoistwright.drawing.hung import Tie
from hoistwright.drawing.pieces import Piece, piece_of
from hoistwright.drawing.project import HANGING, SHAFT, Frame, Points
from hoistwright.drawing.shapes import Body
from hoistwright.drawing.spread import Slide

GAP = 5.0
"""Clear paper between neighbours, in millimetres of the hoist."""
NEST = 0.22
PULL = 34.0
"""How much further a part that comes off stands from those that stay."""
CLEAR = 2.0
"""Least clearance along the line, so that planes between neighbours never cross."""


@attrs.frozen(eq=False)
class Item:
    """A part to be strung: `way` is -1 or 1, the side it comes off to or (`onto`) goes on from;
    0 where it stays.
    """

    key: str
    order: float
    axis: Axis
    body: Body
    copies: int
    way: int = 0
    onto: bool = False


@attrs.frozen(eq=False)
class Station:
    """What stands at one place in the stack, drawn as if it stood at the beginning."""

    pieces: tuple[Piece, ...]
    behind: tuple[Points, ...]
    """Lines to what lies across or beside: drawn first, so that the parts hide them."""
    spots: frozenset[tuple[float, float]]
    length: float
    flange: float = 0.0
    way: int = 0
    """-1 or 1 where all that stands here comes off (or goes on from) there along the line."""

    @property
    def outlines(self) -> list[Points]:
        return [piece.reserve for piece in self.pieces]


@attrs.frozen(eq=False)
class Strand:
    """Stations and how far along the line each stands."""

    group: str
    frame: Frame
    stations: tuple[Station, ...]
    travels: tuple[float, ...]
    ties: tuple[Tie, ...] = ()

    @property
    def direction(self) -> Points:
        out: Points = self.frame.paper(np.array([[0.0, 0.0, 1.0]]))[0]
        return out


def strung(
    group: str, items: Sequence[Item], radius: float, ties: Sequence[Tie] = (), *, shaft: bool
) -> Strand:
    """String `items` (any order) on their lines and spread them."""
    frame = SHAFT if shaft else HANGING
    stations = [_station(found, frame, radius) for found in _by_place(items)]
    direction = frame.paper(np.array([[0.0, 0.0, 1.0]]))[0]
    slide = Slide(direction, GAP, NEST if shaft else 0.0)
    travels: list[float] = []
    end, way = 0.0, 0
    for station in stations:
        travel = max(slide.room(station.outlines), end + CLEAR if travels else 0.0)
        if travels and station.way != way and (way < 0 or station.way > 0):
            travel += PULL
        way = station.way
        slide.put(station.outlines, travel)
        travels.append(travel)
        end = travel + station.length
    return Strand(group, frame, tuple(stations), tuple(travels), tuple(ties))


def _by_place(items: Sequence[Item]) -> Iterator[list[Item]]:
    """Items of one station: equal order along the line. What lies across or beside joins the
    station before it if its order is in the same ten (host 20, its cross pins 21 to 29).
    """
    ordered = sorted(items, key=lambda item: (item.order, item.axis.lie != "along", item.key))
    station: list[Item] = []
    for item in ordered:
        joins = station and (
            (item.axis.lie != "along" and item.order // 10 == station[0].order // 10)
            or (item.order == station[0].order and station[0].axis.lie == "along")
        )
        if station and not joins:
            yield station
            station = []
        station.append(item)
    if station:
        yield station


def _station(items: Sequence[Item], frame: Frame, radius: float) -> Station:
    along = [item for item in items if item.axis.lie == "along"]
    pieces: list[Piece] = []
    spots: set[tuple[float, float]] = set()
    length = 0.0
    for item in along:
        one = piece_of(item.key, item.body, frame, np.zeros(3), item.way, onto=item.onto)
        for place in _places(item):
            spot = (place[0] * radius, place[1] * radius)
            pieces.append(one.at(frame, np.array([*spot, 0.0])))
            spots.add(spot)
        length = max(length, item.body.length)
    pieces.sort(key=lambda piece: piece.nearness)
    host = along[0].body if along else None
    behind: list[Points] = []
    side_far: list[Piece] = []
    side_near: list[Piece] = []
    for left, put in ((False, side_far), (True, side_near)):
        found = [i for i in items if i.axis.lie != "along" and i.axis.left == left]
        if found:
            standing = pieces or side_far
            placed, line = _beside(found, host, standing, frame, left=left)
            put.extend(placed)
            behind.extend(line)
    return Station(
        (*side_far[::-1], *pieces, *side_near),
        tuple(behind),
        frozenset(spots),
        length,
        max((item.body.flange for item in along), default=0.0),
        _common_way(along),
    )


def _common_way(along: Sequence[Item]) -> int:
    ways = {item.way for item in along}
    return ways.pop() if len(ways) == 1 else 0


def _places(item: Item) -> tuple[tuple[float, float], ...]:
    return item.axis.places[: max(1, item.copies)]


def _beside(
    items: Sequence[Item], host: Body | None, standing: Sequence[Piece], frame: Frame, *, left: bool
) -> tuple[list[Piece], list[Points]]:
    """Parts strung sideways from the host: cross pins with their nuts, latches."""
    side = -1.0 if left else 1.0
    way = SHAFT.paper(np.array([[0.0, 0.0, 1.0]]))[0] * side
    slide = Slide(way, GAP)
    if standing:
        slide.put([piece.reserve for piece in standing], 0.0)
    placed: list[Piece] = []
    lines: list[Points] = []
    for item in items:
        across = item.axis.lie == "across"
        level = _level(item, host)
        own = SHAFT if across else frame
        start = frame.paper(np.array([[0.0, 0.0, level]]))[0]
        centre = np.zeros(3) if across else np.array([0.0, 0.0, -item.body.length / 2])
        one = piece_of(item.key, item.body, own, centre, item.way, onto=item.onto).moved(start)
        for _ in range(max(1, min(2, item.copies))):
            piece = one
            travel = max(slide.room([piece.reserve]), 0.0)
            piece = piece.moved(way * travel)
            slide.put([piece.reserve], 0.0)
            placed.append(piece)
            end = start + way * travel
            lines.append(np.array([start, end]))
    return placed, lines[-1:] if len({_level(i, host) for i in items}) == 1 else lines


def _level(item: Item, host: Body | None) -> float:
    """How far down the host a part at its side belongs."""
    if host is None:
        return 0.0
    mark = host.eye if item.axis.lie == "across" else host.mouth
    return host.length / 2 if mark is None else mark
