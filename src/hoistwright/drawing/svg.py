"""Writing SVG text: fixed decimals, fixed order, so that the same input gives the same bytes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from hoistwright.drawing.project import Points
from hoistwright.drawing.shapes import Paint
from hoistwright.drawing.signs import HATCH_TILE, HATCHES

EDGE, FINE, BOLD, AXIS = 0.2, 0.11, 0.5, 0.15
"""Line widths in millimetres: edges, marks on faces, edges of lit parts, assembly lines."""
TEXT = 3.1
"""Text size in millimetres; nothing is written smaller."""


def number(value: float) -> str:
    """Two decimals, no trailing zeros, never minus zero."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def tag(name: str, attributes: Mapping[str, str], *inside: str) -> str:
    """One element; attributes in the order given."""
    head = "".join(f" {key}={quoteattr(value)}" for key, value in attributes.items())
    return f"<{name}{head}>{''.join(inside)}</{name}>" if inside else f"<{name}{head}/>"


def text(value: str) -> str:
    return escape(value)


def path(loops: Sequence[Points], *, close: bool) -> str:
    """Path data of polylines."""
    out = []
    for loop in loops:
        rounded = np.round(loop, 2) + 0.0  # no minus zero
        points = "L".join(["%.6g %.6g"] * len(loop)) % tuple(rounded.ravel().tolist())
        out.append(f"M{points}{'Z' if close else ''}")
    return "".join(out)


def painted(paints: Sequence[Paint], scale: float, *, fill: str = "") -> list[str]:
    """A part's paint as elements. `fill` is the hatch of its faces, else they are white.

    The group round them says: white fill, black edges.
    """
    out = []
    for item in paints:
        out.extend(_WRITERS[item.kind](item, scale, fill))
    return out


def _face(item: Paint, _scale: float, fill: str) -> list[str]:
    attributes = {"d": path(item.loops, close=True)}
    if len(item.loops) > 1:
        attributes["fill-rule"] = "evenodd"
    if fill:
        attributes["fill"] = fill
    return [tag("path", attributes)]


def _wall(item: Paint, _scale: float, _fill: str) -> list[str]:
    return [tag("path", {"d": path(item.loops, close=True)})]


def _blank(item: Paint, _scale: float, _fill: str) -> list[str]:
    return [tag("path", {"d": path(item.loops, close=True), "stroke": "none"})]


def _line(item: Paint, _scale: float, _fill: str) -> list[str]:
    d = path(item.loops, close=False)
    return [tag("path", {"d": d, "fill": "none", "stroke-width": number(FINE)})]


def _axis(item: Paint, _scale: float, _fill: str) -> list[str]:
    d = path(item.loops, close=False)
    return [tag("path", {"class": "axis", "d": d})]


def _bar(item: Paint, scale: float, fill: str) -> list[str]:
    """A bar is a thick black line with a white one on it."""
    edge, core = (path((loop,), close=False) for loop in item.loops)
    width = max(abs(item.width) * scale, 3 * EDGE)
    cap = "round" if item.width < 0 else "butt"
    inner = max(width - 2 * EDGE, EDGE)
    outside = {"d": edge, "stroke-width": number(width), "stroke-linecap": cap}
    inside = {"d": core, "stroke": fill or "#fff", "stroke-width": number(inner)}
    inside["stroke-linecap"] = cap
    return [tag("path", {**line, "fill": "none"}) for line in (outside, inside)]


def _arrow(item: Paint, _scale: float, _fill: str) -> list[str]:
    d = path(item.loops, close=False)
    return [tag("path", {"class": "arrow", "d": d, "fill": "none", "stroke-width": "0.7"})]


def _arrow_head(item: Paint, _scale: float, _fill: str) -> list[str]:
    d = path(item.loops, close=True)
    return [tag("path", {"class": "arrow", "d": d, "fill": "#000", "stroke-width": number(EDGE)})]


_WRITERS = {
    "face": _face,
    "wall": _wall,
    "blank": _blank,
    "line": _line,
    "axis": _axis,
    "bar": _bar,
    "arrow": _arrow,
    "arrow head": _arrow_head,
}


def hatch_definitions(prefix: str, names: Sequence[str]) -> str:
    """The patterns for these hatches, as a defs element."""
    tile = number(HATCH_TILE)
    patterns = []
    for name in names:
        width = "0.34" if name == "not established" else "0.13"
        lines = {
            "d": HATCHES[name],
            "fill": "none",
            "stroke": "#000",
            "stroke-width": width,
            "stroke-linecap": "round" if name == "not established" else "butt",
        }
        patterns.append(
            tag(
                "pattern",
                {
                    "id": hatch_id(prefix, name),
                    "width": tile,
                    "height": tile,
                    "patternUnits": "userSpaceOnUse",
                },
                tag("rect", {"width": tile, "height": tile, "fill": "#fff", "stroke": "none"}),
                tag("path", lines),
            )
        )
    return tag("defs", {}, *patterns) if patterns else ""


def hatch_id(prefix: str, name: str) -> str:
    return f"{prefix}-hatch-{name.replace(' ', '-')}"
