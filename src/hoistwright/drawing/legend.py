"""The legend of signs and the parts list as a table, below the drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hoistwright.drawing.marks import sign
from hoistwright.drawing.parts_list import PartsLine
from hoistwright.drawing.signs import HATCHES, SIGNS
from hoistwright.drawing.svg import BOLD, EDGE, TEXT, hatch_id, number, tag, text

LEGEND_HEIGHT = 8.0
ROW = 4.6
COLUMN = 80.0


def legend(notes: Sequence[str], prefix: str, *, top: float, lit_words: str) -> str:
    """One line: hatch, sign and word for each state shown; `lit_words` explain lit parts."""
    x, y = 4.0, top + LEGEND_HEIGHT / 2
    out = []
    for note in notes:
        words = lit_words if note == "lit" else note
        out.append(_swatch(note, prefix, x, y))
        x += 8.5
        if note in SIGNS:
            out.append(sign(note, x + 2.0, y))
            x += 5.5
        out.append(_words(words, x, y + TEXT * 0.36))
        x += len(words) * TEXT * 0.56 + 7.0
    return tag("g", {"class": "legend"}, *out)


def _swatch(note: str, prefix: str, x: float, y: float) -> str:
    fill = f"url(#{hatch_id(prefix, note)})" if note in HATCHES else "#fff"
    return tag(
        "rect",
        {
            "x": number(x),
            "y": number(y - 2.0),
            "width": "7",
            "height": "4",
            "fill": fill,
            "stroke-width": number(BOLD if note == "lit" else EDGE),
        },
    )


def _words(words: str, x: float, y: float, anchor: str = "start") -> str:
    attributes = {"x": number(x), "y": number(y), "fill": "#000", "stroke": "none"}
    if anchor != "start":
        attributes["text-anchor"] = anchor
    return tag("text", attributes, text(words))


def _columns(width: float) -> int:
    return max(1, int(width // COLUMN))


def list_height(lines: Sequence[PartsLine], width: float) -> float:
    """Height of the table in millimetres."""
    return math.ceil(len(lines) / _columns(width)) * ROW + 3.0


def list_table(lines: Sequence[PartsLine], width: float, *, top: float) -> str:
    """Number, name and quantity in as many columns as the width holds."""
    columns = _columns(width)
    rows = math.ceil(len(lines) / columns)
    step = width / columns
    out = []
    for k, line in enumerate(lines):
        column, row = divmod(k, rows)
        x, y = column * step, top + (row + 1) * ROW
        out.append(_words(str(line.number), x + 7.0, y, "end"))
        out.append(_words(_cut(line.name, step - 20.0), x + 9.5, y))
        out.append(_words(f"{line.quantity}×", x + step - 3.0, y, "end"))
        rule = f"M{number(x + 2)} {number(y + 1.2)}H{number(x + step - 2)}"
        out.append(tag("path", {"d": rule, "stroke-width": "0.08"}))
    return tag("g", {"class": "parts-list"}, *out)


def _cut(name: str, width: float) -> str:
    """The name, cut off where it would run into the quantity."""
    room = int(width / (TEXT * 0.5))
    return name if len(name) <= room else name[: room - 1].rstrip() + "…"
