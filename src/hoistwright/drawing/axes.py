"""The axis lines that parts are strung on, and where they run.

`places` are offsets (u, v) from the middle of the group, in parts of the reference radius
(half the largest plate). A part with several pieces takes as many places as it has pieces.
"""

from __future__ import annotations

from typing import Literal

import attrs

from hoistwright.drawing.shapes.round import STAY

Lie = Literal["along", "across", "beside"]
Group = str

SHAFT_GROUP = "shaft"
LOOSE = "loose"


@attrs.frozen
class Axis:
    """`lie`: along the line; across it (a cross pin); or beside it, drawn the same way up."""

    group: Group
    places: tuple[tuple[float, float], ...] = ((0.0, 0.0),)
    lie: Lie = "along"
    left: bool = False


def _pair(u: float, v: float) -> tuple[tuple[float, float], ...]:
    return ((u, v), (-u, v))


def _hanging(name: str) -> dict[str, Axis]:
    return {
        name: Axis(name),
        f"{name} across": Axis(name, lie="across"),
        f"{name} across left": Axis(name, lie="across", left=True),
        f"{name} beside": Axis(name, lie="beside"),
        f"{name} beside left": Axis(name, lie="beside", left=True),
    }


AXES: dict[str, Axis] = {
    "main": Axis(SHAFT_GROUP),
    "pawl": Axis(SHAFT_GROUP, _pair(0.60, -0.30)),
    "layshaft": Axis(SHAFT_GROUP, _pair(0.48, 0.0)),
    "layshaft left": Axis(SHAFT_GROUP, ((-0.48, 0.0),)),
    "layshaft right": Axis(SHAFT_GROUP, ((0.48, 0.0),)),
    "stay": Axis(SHAFT_GROUP, STAY),
    "guide": Axis(SHAFT_GROUP, _pair(0.42, -0.52)),
    "stripper": Axis(SHAFT_GROUP, ((0.0, -0.66),)),
    "anchor": Axis(SHAFT_GROUP, ((0.62, -0.62),)),
    "slack end": Axis(SHAFT_GROUP, ((-0.62, -0.62),)),
    "suspension": Axis(SHAFT_GROUP, ((0.0, 0.86),)),
    "lever pawl": Axis(SHAFT_GROUP, ((0.0, 0.62),)),
    "lever cover screw": Axis(SHAFT_GROUP, ((0.37, 0.21), (-0.37, 0.21), (0.0, -0.43))),
    "data plate corners": Axis(
        SHAFT_GROUP, ((0.293, 0.151), (-0.293, 0.151), (0.293, -0.151), (-0.293, -0.151))
    ),
    "lever tip": Axis(SHAFT_GROUP, ((0.0, 2.0),)),
    "bottom hook halves": Axis("bottom hook", ((0.0, 0.5), (0.0, -0.5))),
    **_hanging("top hook"),
    **_hanging("bottom hook"),
    **_hanging("load chain"),
    **_hanging("hand chain"),
    **_hanging("tag"),
    LOOSE: Axis(LOOSE),
}


def axis_of(name: str) -> Axis:
    """The axis line of this name; parts on a line we do not know lie loose."""
    return AXES.get(name, AXES[LOOSE])
