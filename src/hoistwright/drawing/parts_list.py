"""The parts list: number, name and quantity, the same numbers on every drawing of a design."""

from __future__ import annotations

from collections.abc import Collection

import attrs

from hoistwright.drawing.scene import drawable
from hoistwright.hoist.design import Design


@attrs.frozen
class PartsLine:
    number: int
    key: str
    name: str
    quantity: int


def parts_list(design: Design, parts: Collection[str] | None = None) -> tuple[PartsLine, ...]:
    """The drawn parts in parts-list order. Numbers count all parts of the design, so a part
    keeps its number on a drawing of a few.
    """
    lines = (
        PartsLine(number, part.key, part.name, part.quantity)
        for number, part in enumerate(drawable(design), start=1)
    )
    return tuple(line for line in lines if parts is None or line.key in parts)
