"""Small drawings of single steps, and the drawing of the whole hoist, for printed sheets."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Any

from hoistwright.drawing import around, drawable, drawn, parts_list
from hoistwright.hoist.design import Design
from hoistwright.hoist.parts import Side

STEP_SIZE = (62.0, 42.0)
WHOLE_SIZE = (176.0, 232.0)
"""Millimetres."""

_AROUND = 2
"""Neighbours drawn on each side of the parts at hand."""

_FONT = "Noto Sans"


def step_picture(
    design: Design,
    moved: Sequence[str],
    present: Collection[str],
    side: Side,
    *,
    worked_on: Collection[str] = (),
    back: bool = False,
) -> str:
    """The parts a step moves, lit, among their neighbours; empty where it moves none.

    Args:
        design: the design.
        moved: keys of the parts that come off, or go back.
        present: keys of the parts that are on the hoist beside them.
        side: the side that the step is done on.
        worked_on: keys of parts that they come off, or go into: always drawn. Where one is
            off the hoist the step is done on the bench: only what lies between is beside it.
        back: True for a rebuild: the arrows lead to the hoist.
    """
    known = {part.key for part in drawable(design)}
    lit = [key for key in moved if key in known]
    if not lit:
        return ""
    near: Collection[str] = around(design, lit, present=present, count=_AROUND)
    if not {*worked_on} <= {*present}:
        near = _between(design, near, [*lit, *worked_on])
    return drawn(
        design,
        parts={*near, *worked_on} & known,
        lit=lit,
        toward={} if side == "middle" else dict.fromkeys(lit, side),
        move="on" if back else "off",
        with_legend=False,
        size=STEP_SIZE,
        font=_FONT,
    ).svg


def _between(design: Design, keys: Collection[str], ends: Sequence[str]) -> set[str]:
    """Those of `keys` that lie between the outermost of `ends` in stack order."""
    order = {part.key: part.drawn.order for part in design.parts if part.drawn}
    span = [order[key] for key in ends if key in order]
    return {key for key in keys if key in order and min(span) <= order[key] <= max(span)}


def whole_picture(design: Design, lit: Collection[str], legend: str) -> dict[str, Any]:
    """The exploded drawing with some parts lit, and its parts list.

    Where most parts would be lit none is: that would tell nothing. `legend` explains the lit.
    """
    known = {part.key for part in drawable(design)}
    wanted = [key for key in lit if key in known]
    few = wanted if 2 * len(wanted) <= len(known) else []
    picture = drawn(design, lit=few, move="none", lit_words=legend, size=WHOLE_SIZE, font=_FONT)
    return {
        "svg": picture.svg,
        "parts": [
            {"number": line.number, "name": line.name, "quantity": line.quantity}
            for line in parts_list(design)
        ],
    }


def numbers_of_parts(design: Design) -> dict[str, int]:
    """The number of each part in drawings and parts list."""
    return {line.key: line.number for line in parts_list(design)}
