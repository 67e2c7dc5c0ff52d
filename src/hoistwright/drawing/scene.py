"""From a design to placed shapes: which parts, on which lines, in which order.

Pure: a design and a choice of parts in, strands and loose blocks out. Nothing here knows
of pages or of SVG.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

import attrs
import numpy as np

from hoistwright.drawing.axes import LOOSE, SHAFT_GROUP, axis_of
from hoistwright.drawing.blocks import Block, Layer
from hoistwright.drawing.guess import guessed
from hoistwright.drawing.hung import ties_of
from hoistwright.drawing.pieces import piece_of
from hoistwright.drawing.project import HANGING, SHAFT
from hoistwright.drawing.shapes import SHAPES, Body, turned
from hoistwright.drawing.signs import Move
from hoistwright.drawing.sizes import size_of
from hoistwright.drawing.strand import Item, Strand, strung
from hoistwright.hoist.design import Design
from hoistwright.hoist.parts import Drawn, Part, Side

NOT_DRAWN_ROLE = "hoist"
"""The part that stands for the whole hoist has looks of its own but no shape."""

REFERENCE_RADIUS = 90.0
"""Half a plate where the design draws none, in millimetres."""

HANGING_SHAPES = frozenset({"hook", "top hook", "latch", "yoke", "crosshead", "body half"})
_CHAINS = frozenset({"load chain", "hand chain", "joining link", "end stop"})


@attrs.frozen(eq=False)
class Scene:
    """Strands of parts on lines, and parts that lie loose."""

    strands: tuple[Strand, ...]
    loose: tuple[Block, ...]


def drawable(design: Design) -> tuple[Part, ...]:
    """The parts that have a shape, in parts-list order: all but the hoist itself."""
    return tuple(part for part in design.parts if part.role != NOT_DRAWN_ROLE)


def scene(
    design: Design,
    *,
    parts: Collection[str] | None = None,
    lit: Collection[str] = (),
    toward: Mapping[str, Side] | None = None,
    move: Move = "off",
) -> Scene:
    """Place the chosen parts of `design` on their lines.

    `lit` parts get an arrow the way they come off, or (`move`) go on: at the side in `toward`,
    else at the part's own side. Raises ValueError for a key that is no part of the design.
    """
    chosen = _chosen(design, parts, lit)
    radius = _reference_radius(design)
    groups: dict[str, list[Item]] = {}
    for part in chosen:
        drawn = _drawn(part)
        axis = axis_of(drawn.axis)
        body = body_of(design, part)
        way = _way(design, part, toward or {}) if part.key in lit and move != "none" else 0
        item = Item(part.key, float(drawn.order), axis, body, part.quantity, way, onto=move == "on")
        groups.setdefault(axis.group, []).append(item)
    loose = groups.pop(LOOSE, [])
    on_shaft = [part for part in chosen if axis_of(_drawn(part).axis).group == SHAFT_GROUP]
    ties = ties_of(on_shaft, groups, SHAFT_GROUP)
    strands = tuple(
        strung(name, items, radius, ties.get(name, ()), shaft=name == SHAFT_GROUP)
        for name, items in sorted(groups.items(), key=lambda pair: pair[0] != SHAFT_GROUP)
    )
    shapes = {part.key: _drawn(part).shape for part in chosen}
    return Scene(strands, tuple(_loose(item, shapes[item.key]) for item in loose))


def body_of(design: Design, part: Part) -> Body:
    """The part's shape as a body, turned where its drawn data says so."""
    drawn = _drawn(part)
    body = SHAPES[drawn.shape].make(size_of(design, part, drawn))
    return turned(body) if drawn.flip else body


def _chosen(
    design: Design, parts: Collection[str] | None, lit: Collection[str]
) -> tuple[Part, ...]:
    known = drawable(design)
    keys = {part.key for part in known}
    unknown = sorted({*(parts or ()), *lit} - keys - {p.key for p in design.parts})
    if unknown:
        raise ValueError(
            f"no part of {design.key!r} has the key {', '.join(map(repr, unknown))}; "
            "give keys from the design's parts list"
        )
    if parts is None:
        return known
    wanted = {*parts, *lit}
    return tuple(part for part in known if part.key in wanted)


def _drawn(part: Part) -> Drawn:
    drawn = part.drawn
    if drawn is None:
        return guessed(part)
    if drawn.shape not in SHAPES:
        return attrs.evolve(drawn, shape=guessed(part).shape)
    return drawn


def _reference_radius(design: Design) -> float:
    plates = [
        size_of(design, part, part.drawn).outer
        for part in design.parts
        if part.drawn is not None and part.drawn.shape == "side plate"
    ]
    return max(plates) / 2 if plates else REFERENCE_RADIUS


def _way(design: Design, part: Part, toward: Mapping[str, Side]) -> int:
    """-1 to the beginning of the line, 1 to its end."""
    side = toward.get(part.key, part.side)
    drawn = _drawn(part)
    axis = axis_of(drawn.axis)
    if axis.lie == "across":
        return -1 if axis.left else 1
    if axis.group != SHAFT_GROUP:
        return -1 if axis.group.startswith("top") else 1
    if side in ("wheel side", "gear side"):
        return -1 if side == "wheel side" else 1
    strung_up = [p.drawn for p in design.parts if p.drawn]
    own = sorted(other.order for other in strung_up if other.axis == drawn.axis)
    if len(own) > 1 and drawn.order in (own[0], own[-1]):  # out of its own line's end
        return -1 if drawn.order == own[0] else 1
    orders = sorted(o.order for o in strung_up if axis_of(o.axis).group == SHAFT_GROUP)
    return -1 if orders and drawn.order <= orders[len(orders) // 2] else 1


def _loose(item: Item, shape: str) -> Block:
    frame = HANGING if shape in HANGING_SHAPES | _CHAINS else SHAFT
    piece = piece_of(item.key, item.body, frame, np.zeros(3), item.way, onto=item.onto)
    return Block(item.key, LOOSE, (Layer(item.key, (piece,)),), 0, ((0.0, (item.key,)),))
