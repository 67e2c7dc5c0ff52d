"""Small drawings of single steps, and the drawing of the whole hoist, for printed sheets."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Any

from hoistwright.drawing import drawable, drawn, parts_list
from hoistwright.hoist.design import Design
from hoistwright.hoist.parts import Side

STEP_SIZE = (62.0, 42.0)
WHOLE_SIZE = (176.0, 232.0)
"""Millimetres."""

_AROUND = 4
"""Steps whose parts are drawn around those of the step at hand."""
_MOST = 10
"""Parts drawn around them: more would be too small to tell apart."""

_FONT = "Noto Sans"


def step_picture(
    design: Design,
    moved: Sequence[str],
    around: Sequence[Sequence[str]],
    side: Side,
    *,
    back: bool = False,
) -> str:
    """The parts a step moves, lit, among their neighbours; empty where it moves none.

    Args:
        design: the design.
        moved: keys of the parts that come off, or go back.
        around: parts of the neighbouring steps, the nearest step first.
        side: the side that the step is done on.
        back: True for a rebuild, where parts go in against the arrow.
    """
    known = {part.key for part in drawable(design)}
    lit = [key for key in moved if key in known]
    if not lit:
        return ""
    near = [key for keys in around[:_AROUND] for key in keys if key in known and key not in lit]
    svg = drawn(
        design,
        parts=[*lit, *near[:_MOST]],
        lit=lit,
        toward={} if side == "middle" else dict.fromkeys(lit, side),
        size=STEP_SIZE,
        font=_FONT,
    ).svg
    return svg.replace("comes off now", "goes on, against the arrow") if back else svg


def whole_picture(design: Design, lit: Collection[str], legend: str) -> dict[str, Any]:
    """The exploded drawing with some parts lit, and its parts list.

    Where most parts would be lit none is: that would tell nothing. `legend` explains the lit.
    """
    known = {part.key for part in drawable(design)}
    wanted = [key for key in lit if key in known]
    few = wanted if 2 * len(wanted) <= len(known) else []
    svg = drawn(design, lit=few, size=WHOLE_SIZE, font=_FONT).svg
    return {
        "svg": svg.replace("comes off now", legend),
        "parts": [
            {"number": line.number, "name": line.name, "quantity": line.quantity}
            for line in parts_list(design)
        ],
    }


def numbers_of_parts(design: Design) -> dict[str, int]:
    """The number of each part in drawings and parts list."""
    return {line.key: line.number for line in parts_list(design)}
