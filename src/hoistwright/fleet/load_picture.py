"""The coming weeks as bars: black for hours, with the count of hoists above each."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from hoistwright.drawing.svg import number, tag, text

WIDTH, HEIGHT = 900.0, 318.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 56.0, 12.0, 34.0, 48.0
_SIZE = "15"


@attrs.frozen(kw_only=True)
class Bar:
    """One column: its name below, its hours, what stands above it; hatched where `late`."""

    name: str
    hours: float
    above: str
    late: bool = False


def load_svg(bars: Sequence[Bar], *, title: str, told: str, hours: str) -> str:
    """Draw the bars.

    Args:
        bars: from left to right.
        title: of the picture.
        told: the picture in a sentence.
        hours: the word for the axis.

    Returns:
        An SVG element.

    References:
        presentation only; no outside source.
    """
    most = max([bar.hours for bar in bars] + [1.0])
    step = next(s for s in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 10**9) if most / s <= 6)
    top = step * -(-most // step)
    inside = [
        tag("title", {"id": "load-title"}, text(title)),
        tag("desc", {"id": "load-told"}, text(told)),
        tag("defs", {}, tag("pattern", {"id": "load-late", "width": "8", "height": "8",
            "patternUnits": "userSpaceOnUse", "patternTransform": "rotate(45)"},
            tag("path", {"d": "M0 0V8", "stroke": "#000", "stroke-width": "4"}))),
        *_scale(top, step, hours),
        *(_bar(bar, at, len(bars), top) for at, bar in enumerate(bars)),
    ]  # fmt: skip
    head = {"xmlns": "http://www.w3.org/2000/svg", "role": "img",
            "viewBox": f"0 0 {number(WIDTH)} {number(HEIGHT)}",
            "aria-labelledby": "load-title load-told", "font-family": "sans-serif",
            "font-size": _SIZE}  # fmt: skip
    return tag("svg", head, *inside)


def _y(value: float, top: float) -> float:
    return HEIGHT - _BOTTOM - (HEIGHT - _TOP - _BOTTOM) * value / top


def _scale(top: float, step: float, hours: str) -> list[str]:
    out = [tag("text", {"x": number(_LEFT - 8), "y": "18", "text-anchor": "end"}, text(hours))]
    for at in range(round(top / step) + 1):
        y = _y(at * step, top)
        out.append(tag("path", {"d": f"M{number(_LEFT)} {number(y)}H{number(WIDTH - _RIGHT)}",
                                "stroke": "#000" if not at else "#999"}))  # fmt: skip
        out.append(tag("text", {"x": number(_LEFT - 8), "y": number(y + 5), "text-anchor": "end"},
                       number(at * step)))  # fmt: skip
    return out


def _bar(bar: Bar, at: int, count: int, top: float) -> str:
    room = (WIDTH - _LEFT - _RIGHT) / count
    x, y = _LEFT + room * at, _y(bar.hours, top)
    middle, wide = x + room / 2, room * 0.7
    shape = {"x": number(middle - wide / 2), "y": number(y), "width": number(wide),
             "height": number(HEIGHT - _BOTTOM - y), "stroke": "#000",
             "fill": "url(#load-late)" if bar.late else "#222"}  # fmt: skip
    below = "".join(
        tag("text", {"x": number(middle), "y": number(HEIGHT - _BOTTOM + 20 + 17 * line),
                     "text-anchor": "middle"}, text(word))
        for line, word in enumerate(bar.name.split(" ", 1))
    )  # fmt: skip
    above = tag("text", {"x": number(middle), "y": number(y - 7), "text-anchor": "middle",
                         "font-weight": "bold", "stroke": "#fff", "stroke-width": "5",
                         "paint-order": "stroke", "fill": "#000"}, text(bar.above))  # fmt: skip
    return tag("rect", shape) + below + above
