"""The history of one measured feature as a picture: black on white, meaning in the shapes.

Diamonds with whiskers are readings with their U; a triangle on an upright line is a renewal; the
hatched band is where the true wear lies with a probability of 90 %, the dashed line its middle;
the double line is the limit, the thin one as new, the dotted upright the next visit.
"""

from __future__ import annotations

import datetime
import itertools
from collections.abc import Iterator, Sequence

import attrs

from hoistwright.drawing.svg import number, tag, text
from hoistwright.fleet.plot_values import PlotTexts, PlotValues

WIDTH, HEIGHT = 560.0, 300.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 72.0, 16.0, 40.0, 34.0
_SIZE = 15.0
_INK = {"stroke": "#000", "fill": "none"}


@attrs.frozen
class _Frame:
    """Places of days and figures in the picture."""

    first: datetime.date
    last: datetime.date
    low: float
    high: float

    def x(self, day: datetime.date) -> float:
        whole = max((self.last - self.first).days, 1)
        return _LEFT + (WIDTH - _LEFT - _RIGHT) * (day - self.first).days / whole

    def y(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return HEIGHT - _BOTTOM - (HEIGHT - _TOP - _BOTTOM) * min(max(share, 0.0), 1.0)


def history_svg(values: PlotValues, texts: PlotTexts, name: str) -> str:
    """Draw a history.

    Args:
        values: what is to be seen.
        texts: its words.
        name: of the picture, letters and digits; makes the names inside it its own on a page.

    Returns:
        An SVG element with a title and a description. The same values give the same text.

    References:
        presentation only; no outside source.
    """
    frame = _frame(values)
    inside = [
        tag("title", {"id": f"{name}-title"}, text(texts.title)),
        tag("desc", {"id": f"{name}-told"}, text(texts.told)),
        _hatch(name),
        *_band(values, frame, name),
        *_grid(values, frame, texts),
        *_uprights(values, frame, texts),
        *_levels(values, frame, texts),
        *_readings(values, frame),
    ]
    head = {
        "xmlns": "http://www.w3.org/2000/svg",
        "viewBox": f"0 0 {number(WIDTH)} {number(HEIGHT)}",
        "role": "img",
        "aria-labelledby": f"{name}-title {name}-told",
        "font-family": "sans-serif",
        "font-size": number(_SIZE),
    }
    return tag("svg", head, *inside)


def _frame(values: PlotValues) -> _Frame:
    days = [reading.day for reading in values.readings] + list(values.renewals) + list(values.days)
    days += [day for day in (values.next_visit, values.today) if day is not None]
    first, last = min(days), max(days)
    room = datetime.timedelta(days=max(20, round((last - first).days * 0.04)))
    figures = [values.limit, *values.middle, *([values.new] if values.new is not None else [])]
    figures += [r.value + sign * r.expanded for r in values.readings for sign in (1, -1)]
    low, high = min(figures), max(figures)
    span = (high - low) or abs(high) or 1.0
    return _Frame(first - room, last + room, low - 0.12 * span, high + 0.12 * span)


def _hatch(name: str) -> str:
    line = tag("path", {"d": "M0 0V7", "stroke": "#000", "stroke-width": "1"})
    made = {"id": f"{name}-band", "width": "7", "height": "7", "patternUnits": "userSpaceOnUse",
            "patternTransform": "rotate(45)"}  # fmt: skip
    return tag("defs", {}, tag("pattern", made, line))


def _band(values: PlotValues, frame: _Frame, name: str) -> Iterator[str]:
    if not values.days:
        return
    x = [frame.x(day) for day in values.days]
    low, high = [frame.y(v) for v in values.low], [frame.y(v) for v in values.high]
    round_ = [*zip(x, high, strict=True), *reversed(list(zip(x, low, strict=True)))]
    yield tag("path", {"d": _way(round_) + "Z", "fill": f"url(#{name}-band)",
                       "stroke": "#000", "stroke-width": "0.8"})  # fmt: skip
    middle = list(zip(x, (frame.y(v) for v in values.middle), strict=True))
    yield tag("path", {"d": _way(middle), **_INK, "stroke": "#fff", "stroke-width": "5"})
    yield tag("path", {"d": _way(middle), **_INK, "stroke-width": "2.4",
                       "stroke-dasharray": "9 5"})  # fmt: skip


def _grid(values: PlotValues, frame: _Frame, texts: PlotTexts) -> Iterator[str]:
    base, left = HEIGHT - _BOTTOM, _LEFT
    axes = f"M{number(left)} {number(_TOP)}V{number(base)}H{number(WIDTH - _RIGHT)}"
    yield tag("path", {"d": axes, **_INK, "stroke-width": "1.2"})
    ticks = _ticks(frame.first, frame.last)
    for at, day in enumerate(ticks):
        x = frame.x(day)
        yield tag("path", {"d": f"M{number(x)} {number(base)}v6", **_INK})
        anchor = "end" if at and x > WIDTH - 80 else "middle"
        yield _text(x, base + 22, _tick_name(day, ticks), anchor)
    yield _text(left - 8, _TOP - 16, texts.unit, "end")


def _ticks(first: datetime.date, last: datetime.date) -> list[datetime.date]:
    """Beginnings of years; of quarters where there is less than two years to see."""
    months = (1,) if (last - first).days > 730 else (1, 4, 7, 10)
    days = [
        datetime.date(year, month, 1)
        for year in range(first.year, last.year + 1)
        for month in months
    ]
    seen = [day for day in days if first <= day <= last]
    step = max(1, -(-len(seen) // 6))
    return seen[::step] or [first]


def _tick_name(day: datetime.date, ticks: Sequence[datetime.date]) -> str:
    whole_years = all(tick.month == 1 for tick in ticks)
    return str(day.year) if whole_years else f"{day:%m/%Y}"


def _levels(values: PlotValues, frame: _Frame, texts: PlotTexts) -> Iterator[str]:
    """The limit as a double line, as new as a thin one, with their figures at the axis."""
    right = WIDTH - _RIGHT
    y = frame.y(values.limit)
    for shift in (-2.0, 2.0):
        yield tag("path", {"d": f"M{number(_LEFT)} {number(y + shift)}H{number(right)}", **_INK,
                           "stroke-width": "1.6"})  # fmt: skip
    yield _text(_LEFT - 8, y + 5, texts.figure(values.limit), "end")
    yield _text(_LEFT + 6, y - 8 if values.limit_high else y + 19, texts.limit, "start", bold=True)
    if values.new is None:
        return
    y = frame.y(values.new)
    yield tag("path", {"d": f"M{number(_LEFT)} {number(y)}H{number(right)}", **_INK,
                       "stroke-width": "1", "stroke-dasharray": "2 4"})  # fmt: skip
    yield _text(_LEFT - 8, y + 5, texts.figure(values.new), "end")
    yield _text(_LEFT + 6, y + 17 if values.limit_high else y - 7, texts.new, "start")


def _uprights(values: PlotValues, frame: _Frame, texts: PlotTexts) -> Iterator[str]:
    base = HEIGHT - _BOTTOM
    for day in values.renewals:
        x = frame.x(day)
        yield tag("path", {"d": f"M{number(x)} {number(_TOP)}V{number(base)}", **_INK,
                           "stroke-width": "1.6"})  # fmt: skip
        yield tag("path", {"d": f"M{number(x)} {number(base - 14)}l8 14h-16z", "fill": "#000"})
        yield _text(x, _TOP - 6, texts.renewed, _anchor(x))
    if values.today is not None and values.today != values.next_visit:
        x = frame.x(values.today)
        yield tag("path", {"d": f"M{number(x)} {number(base)}v-12", **_INK, "stroke-width": "2.4"})
    if values.next_visit is not None:
        x = frame.x(values.next_visit)
        yield tag("path", {"d": f"M{number(x)} {number(_TOP - 18)}V{number(base)}", **_INK,
                           "stroke-width": "2", "stroke-dasharray": "2 5",
                           "stroke-linecap": "round"})  # fmt: skip
        words = f"{texts.next_visit} {texts.day(values.next_visit)}"
        yield _text(x - 6 if x > WIDTH / 2 else x + 6, _TOP - 24,
                    words, "end" if x > WIDTH / 2 else "start", bold=True)  # fmt: skip


def _anchor(x: float) -> str:
    if x < _LEFT + 50:
        return "start"
    return "end" if x > WIDTH - _RIGHT - 50 else "middle"


def _readings(values: PlotValues, frame: _Frame) -> Iterator[str]:
    """Diamonds with whiskers, and a thin line from each to the next of the same part's life."""
    for before, after in itertools.pairwise(values.readings):
        renewed = any(before.day <= day < after.day for day in values.renewals)
        if not renewed:
            ends = [(frame.x(r.day), frame.y(r.value)) for r in (before, after)]
            yield tag("path", {"d": _way(ends), **_INK, "stroke-width": "1"})
    for reading in values.readings:
        x, y = frame.x(reading.day), frame.y(reading.value)
        top, foot = (frame.y(reading.value + s * reading.expanded) for s in (1, -1))
        yield tag("path", {"d": f"M{number(x)} {number(top)}V{number(foot)}M{number(x - 5)} "
                           f"{number(top)}h10M{number(x - 5)} {number(foot)}h10", **_INK,
                           "stroke-width": "1.6"})  # fmt: skip
        yield tag("path", {"d": f"M{number(x)} {number(y - 7)}l7 7l-7 7l-7 -7z", "fill": "#000",
                           "stroke": "#fff", "stroke-width": "1"})  # fmt: skip


def _way(points: Sequence[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)


def _text(x: float, y: float, words: str, anchor: str, *, bold: bool = False) -> str:
    """Words with a white rim, so that no line runs through them."""
    made = {"x": number(x), "y": number(y), "text-anchor": anchor, "stroke": "#fff",
            "stroke-width": "4", "paint-order": "stroke", "fill": "#000"}  # fmt: skip
    if bold:
        made["font-weight"] = "bold"
    return tag("text", made, text(words))
