"""The sizes a part is drawn to: its drawn data, then the design's own counts, then the usual."""

from __future__ import annotations

import attrs

from hoistwright.drawing.shapes import SHAPES, Size
from hoistwright.hoist.design import Design
from hoistwright.hoist.parts import Drawn, Part

_MM = 1000.0
_SMALLEST, _LARGEST = 1.0, 400.0
"""Bounds for any size: a slip of a factor of a thousand must not fill the page or vanish."""


def size_of(design: Design, part: Part, drawn: Drawn) -> Size:
    """Sizes in millimetres; the shape must be in the catalogue."""
    usual = SHAPES[drawn.shape].usual
    lengths = {
        name: min(max(float(value) * _MM, _SMALLEST), _LARGEST)
        for name in ("outer", "inner", "thickness", "width", "height")
        if (value := getattr(drawn, name)) is not None and value > 0
    }
    teeth = drawn.teeth or _counted(design, part) or usual.teeth
    size = attrs.evolve(usual, teeth=max(1, min(teeth, 80)), **lengths)
    return attrs.evolve(size, inner=min(size.inner, _bore_limit(drawn.shape, size)))


def _bore_limit(shape: str, size: Size) -> float:
    """The widest bore that leaves a ring; a chain's `inner` is its pitch and has no limit."""
    return (
        size.inner if size.outer <= 0 or "chain" in shape or "link" in shape else 0.92 * size.outer
    )


def _counted(design: Design, part: Part) -> int | None:
    """Teeth or pockets as the design file states them."""
    train, brake = design.gear_train, design.load_brake
    if part.role == "idle_sheave":
        mine = [sheave.pockets for sheave in design.idle_sheaves if sheave.part == part.key]
        return next((count for count in mine if count), None)
    if part.role == "gear":
        load = part.key.startswith("load_gear")
        return train.load_gear_teeth if load else train.layshaft_large_teeth
    return {
        "ratchet_disc": brake.ratchet_teeth,
        "load_sheave": design.load_sheave.pockets,
        "hand_chain_wheel": design.hand_drive.wheel_pockets,
        "drive_shaft": train.pinion_teeth,
    }.get(part.role)
