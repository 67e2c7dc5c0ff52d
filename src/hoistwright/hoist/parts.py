"""The parts of a design and what they are called."""

from __future__ import annotations

from typing import Literal

import attrs

from hoistwright.quantity import Length

Renewal = Literal["always", "in pairs", "on finding"]
Side = Literal["wheel side", "middle", "gear side", "hook ends"]


@attrs.frozen(kw_only=True)
class Drawn:
    """How a part is drawn: one simple shape at a place on an axis line.

    `order` is the place in the stack along the axis (smaller is further to the wheel
    side, or further up); the drawing spreads the stack itself. Sizes are for recognition,
    not manufacture. Names of shapes and axes are in the document on drawn parts; an unknown
    one is drawn as the part's role or name suggests.
    """

    shape: str
    axis: str = "main"
    order: float = 0.0
    outer: Length | None = None
    inner: Length | None = None
    thickness: Length | None = None
    width: Length | None = None
    height: Length | None = None
    teeth: int | None = None
    flip: bool = False


@attrs.frozen(kw_only=True)
class Part:
    """One line of the parts list.

    `role` ties the part to what must be looked at and measured on every part of that
    kind (see `hoist/features/`); a part without a role (a screw, a cover) has none.
    """

    key: str
    name: str
    role: str = ""
    quantity: int = 1
    renewal: Renewal = "on finding"
    renew_with: tuple[str, ...] = ()
    side: Side = "middle"
    material: str = ""
    note: str = ""
    outside: bool = False
    """Can be looked at and measured without opening anything."""
    drawn: Drawn | None = None
