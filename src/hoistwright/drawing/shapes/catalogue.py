"""Which shapes there are: each has a name, usual sizes and a function that makes its body."""

from __future__ import annotations

from collections.abc import Callable

import attrs

from hoistwright.drawing.shapes.body import Body


@attrs.frozen(kw_only=True)
class Size:
    """The sizes a shape is made to, in millimetres (outer and inner are diameters)."""

    outer: float = 40.0
    inner: float = 0.0
    thickness: float = 8.0
    width: float = 30.0
    height: float = 40.0
    teeth: int = 0


Maker = Callable[[Size], Body]


@attrs.frozen
class Shape:
    usual: Size
    make: Maker


SHAPES: dict[str, Shape] = {}


def shape(name: str, **usual: float) -> Callable[[Maker], Maker]:
    """Enter a maker in the catalogue under `name`."""

    def enter(make: Maker) -> Maker:
        teeth = int(usual.pop("teeth", 0))
        SHAPES[name] = Shape(Size(teeth=teeth, **usual), make)
        return make

    return enter
