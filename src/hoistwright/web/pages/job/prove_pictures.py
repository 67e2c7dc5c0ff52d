"""Small pictures of the proof: band, stack of weights, pull over time, likelihood."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

import numpy as np
from markupsafe import Markup, escape

from hoistwright.certificate.svg import GREY, INK, box, hatch, line, picture, shape, stroke
from hoistwright.prove.record import Floats
from hoistwright.prove.weight_values import Taken

FONT = "system-ui, Noto Sans, DejaVu Sans, sans-serif"
_Place = Callable[[float], float]


def text(x: float, y: float, words: str, *, size: float = 9.0, anchor: str = "middle",
         ink: str = INK, bold: bool = False) -> str:  # fmt: skip
    """A word in a picture."""
    weight = ' font-weight="700"' if bold else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-family="{FONT}" font-size="{size:g}" '
        f'text-anchor="{anchor}" fill="{ink}"{weight}>{escape(words)}</text>'
    )


# a value in its band


def band_ruler(
    low: float | None, high: float | None, value: float, spread: float, guard: float,
    ends: tuple[str, str],
) -> Markup:  # fmt: skip
    """A value with its U between two bounds: double lines are bounds, hatching guard bands.

    A bound that there is not leaves its side open. `ends` are the bounds in words.
    """
    finite = [bound for bound in (low, high) if bound is not None and math.isfinite(bound)]
    if not finite:
        return Markup()
    start, end = _span(low, high, value, spread)
    width, axis = 220.0, 15.0

    def at(x: float) -> float:
        share = min(max((x - start) / (end - start), 0.0), 1.0)
        return float(10.0 + share * (width - 20.0))

    parts = list(_band(low, high, guard if math.isfinite(guard) else 0.0, at, axis))
    parts += _value(value, spread, at, axis)
    for bound, words in zip((low, high), ends, strict=True):
        if bound is not None and math.isfinite(bound) and words:
            parts.append(text(at(bound), 36.0, words, size=8.5))
    return Markup(picture(width, 40.0, parts))  # our own picture; words are escaped


def _span(
    low: float | None, high: float | None, value: float, spread: float
) -> tuple[float, float]:
    """Ends of the axis: the band takes half of it, more where the value lies far outside."""
    bounds = [b for b in (low, high) if b is not None and math.isfinite(b)]
    least, most = min(bounds), max(bounds)
    away = abs(value - most) if math.isfinite(value) else 0.0
    wide = (most - least) or max(1.6 * away, 0.1 * abs(most)) or 1.0
    start, end = least - 0.5 * wide, most + 0.5 * wide
    if math.isfinite(value):
        reach = 1.15 * (spread if math.isfinite(spread) else 0.0)
        start, end = min(start, value - reach - 0.1 * wide), max(end, value + reach + 0.1 * wide)
    return start, end


def _band(
    low: float | None, high: float | None, guard: float, at: _Place, axis: float
) -> Iterator[str]:
    left = 10.0 if low is None else at(low)
    right = 210.0 if high is None or not math.isfinite(high) else at(high)
    yield line(10.0, axis, 210.0, axis, width=0.8, ink=GREY)
    yield box(left, axis - 4.0, right - left, 8.0, fill="#e9e9e4")
    if low is not None:
        yield hatch(left, axis - 4.0, at(low + guard) - left, 8.0, step=2.6, ink=GREY)
        yield from _double(left, axis)
    if high is not None and math.isfinite(high):
        from_ = at(high - guard)
        yield hatch(from_, axis - 4.0, right - from_, 8.0, step=2.6, ink=GREY)
        yield from _double(right, axis)


def _double(x: float, axis: float) -> Iterator[str]:
    yield line(x - 1.3, axis - 11.0, x - 1.3, axis + 11.0, width=1.3)
    yield line(x + 1.3, axis - 11.0, x + 1.3, axis + 11.0, width=1.3)


def _value(value: float, spread: float, at: _Place, axis: float) -> list[str]:
    if not math.isfinite(value):
        return []
    out, x = [], at(value)
    if math.isfinite(spread) and spread > 0:
        low, high = at(value - spread), at(value + spread)
        out.append(line(low, axis, high, axis, width=1.8))
        out += [line(end, axis - 3.0, end, axis + 3.0, width=1.1) for end in (low, high)]
    corners = [(x, axis - 4.6), (x + 4.6, axis), (x, axis + 4.6), (x - 4.6, axis)]
    return [*out, shape(corners, ink="#fff")]


# a stack of weights on the hook

_ROW = 8
"""Most blocks side by side."""


def stack(taken: Sequence[Taken], named: Callable[[float], str]) -> Markup:
    """The weights on the hook, the heaviest at the bottom; `named` writes a mass."""
    if not taken:
        return Markup()
    rows = [row for one in sorted(taken, key=lambda one: one.mass) for row in _rows(one)]
    most = max(one.mass for one in taken)
    sizes = [(mass, count, _size(mass, most)) for mass, count in rows]
    width = max(count * (size + 3.0) for _, count, size in sizes) + 24.0
    top = 44.0
    height = top + sum(size * 0.8 + 2.0 for _, _, size in sizes) + 8.0
    parts = list(_hook(width / 2, width, top))
    y = top
    for mass, count, size in sizes:
        parts += _blocks(width / 2, y, count, size, named(mass))
        y += size * 0.8 + 2.0
    parts.append(line(4.0, height - 5.0, width - 4.0, height - 5.0, width=2.2))
    return Markup(picture(width, height, parts))  # our own picture; words are escaped


def _rows(one: Taken) -> list[tuple[float, int]]:
    full, rest = divmod(one.count, _ROW)
    return [(one.mass, rest)] * bool(rest) + [(one.mass, _ROW)] * full


def _size(mass: float, most: float) -> float:
    return float(19.0 + 17.0 * (mass / most) ** (1 / 3))


def _hook(x: float, width: float, top: float) -> Iterator[str]:
    hook = f"M{x:.1f} 4V14C{x + 9:.1f} 16 {x + 8:.1f} 28 {x:.1f} 28C{x - 6:.1f} 28 {x - 8:.1f} 24 "
    hook += f"{x - 7:.1f} 21"
    yield stroke(hook, width=2.6)
    for side in (8.0, width - 8.0):
        yield line(x, 27.0, side, top - 4.0, width=1.1)
    yield line(6.0, top - 4.0, width - 6.0, top - 4.0, width=2.2)


def _blocks(x: float, y: float, count: int, size: float, words: str) -> Iterator[str]:
    left = x - count * (size + 3.0) / 2 + 1.5
    for at in range(count):
        yield box(left + at * (size + 3.0), y, size, size * 0.8, fill="#fff", ink=INK)
        middle = left + at * (size + 3.0) + size / 2
        yield text(middle, y + size * 0.4 + 3.2, words, size=8.5 if len(words) < 5 else 7.0)


# a pull over time

_POINTS = 600


def pull_plot(
    time: Floats, pull: Floats, band: tuple[float, float] | None, words: tuple[str, str],
    named: Callable[[float], str],
) -> Markup:  # fmt: skip
    """Pull over time; between the broken lines a sound hoist is expected. `words`: both axes."""
    width, height, left, top, base = 460.0, 200.0, 62.0, 12.0, 160.0
    ends = [float(np.min(pull)), float(np.max(pull)), *(band or ())]
    low, high = min(0.0, *ends), 1.08 * max(ends)
    span = float(time[-1] - time[0]) or 1.0

    def x_at(t: float) -> float:
        return float(left + (t - float(time[0])) / span * (width - left - 12.0))

    def y_at(p: float) -> float:
        return float(base - (p - low) / ((high - low) or 1.0) * (base - top))

    parts = [line(left, top, left, base), line(left, base, width - 12.0, base)]
    if band:
        parts += [stroke(f"M{left} {y_at(p):.1f}H{width - 12.0}", width=1.0, dash="6 4")
                  for p in band]  # fmt: skip
        parts += [text(left - 4.0, y_at(p) + 3.0, named(p), size=11.0, anchor="end") for p in band]
    parts.append(text(left - 4.0, base + 3.0, named(low), size=11.0, anchor="end"))
    parts.append(_line(time, pull, x_at, y_at))
    parts.append(text(width - 12.0, base + 14.0, f"{span:.0f} s", size=11.0, anchor="end"))
    parts.append(text(left + 180.0, base + 16.0, words[0], size=11.0))
    parts.append(text(left + 5.0, base - 6.0, words[1], size=11.0, anchor="start"))
    return Markup(picture(width, height, parts))  # our own picture; words are escaped


def _line(time: Floats, pull: Floats, x_at: _Place, y_at: _Place) -> str:
    """Least and greatest of each piece, so that no peak is lost."""
    pieces = np.array_split(np.arange(time.size), min(_POINTS // 2, time.size))
    chosen: list[int] = []
    for piece in pieces:
        ends = {int(piece[np.argmin(pull[piece])]), int(piece[np.argmax(pull[piece])])}
        chosen += sorted(ends)
    path = "L".join(f"{x_at(float(time[at])):.1f} {y_at(float(pull[at])):.1f}" for at in chosen)
    return stroke(f"M{path}", width=1.1)


# how likely


def likely_bar(share: float) -> Markup:
    """A bar as long as a probability; full is certain."""
    long = 196.0 * min(max(share, 0.0), 1.0)
    parts = [box(2.0, 3.0, 196.0, 12.0, fill="#fff", ink=GREY)]
    parts.append(box(2.0, 3.0, max(long, 1.2), 12.0, fill=INK))
    return Markup(picture(200.0, 18.0, parts))  # our own picture: no typed text
