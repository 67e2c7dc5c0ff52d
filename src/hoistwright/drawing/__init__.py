"""The exploded drawing of a hoist, computed from its design."""

from hoistwright.drawing.choice import around
from hoistwright.drawing.exploded import A4_LANDSCAPE, Drawing, drawn, exploded
from hoistwright.drawing.parts_list import PartsLine, parts_list
from hoistwright.drawing.scene import drawable
from hoistwright.drawing.signs import STATES, Move, State

__all__ = [
    "A4_LANDSCAPE",
    "STATES",
    "Drawing",
    "Move",
    "PartsLine",
    "State",
    "around",
    "drawable",
    "drawn",
    "exploded",
    "parts_list",
]
