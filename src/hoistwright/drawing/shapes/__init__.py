"""The shapes parts are drawn as."""

from hoistwright.drawing.shapes import (
    chains,
    fasteners,
    gears,
    hooks,
    plates,
    round,
    springs,
)
from hoistwright.drawing.shapes.body import Body, Paint, paint, turned
from hoistwright.drawing.shapes.catalogue import SHAPES, Shape, Size

__all__ = [
    "SHAPES",
    "Body",
    "Paint",
    "Shape",
    "Size",
    "chains",
    "fasteners",
    "gears",
    "hooks",
    "paint",
    "plates",
    "round",
    "springs",
    "turned",
]
