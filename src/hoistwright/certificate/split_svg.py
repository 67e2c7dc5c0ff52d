"""Wear or overstrain as a small picture: the lengthening, and the two shares it is made of."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from hoistwright.certificate.svg import GREY, INK, PALE, box, hatch, line, picture
from hoistwright.examine.chain_split import COVERAGE, ChainSplit

_Place = Callable[[float], float]

HEIGHT = 40.0
WIDTH = 220.0
_MARGIN = 6.0


def split_scale(splits: Sequence[ChainSplit]) -> float:
    """The greatest lengthening to be drawn, so that all sections share one scale; a ratio."""
    ends = [
        abs(value) + COVERAGE * u
        for item in splits
        for value, u in (
            (item.elongation, item.elongation_uncertainty),
            (item.wear, item.wear_uncertainty),
            (item.stretch, item.stretch_uncertainty),
        )
        if math.isfinite(value)
    ]
    return max([0.002, *ends])


def split_svg(item: ChainSplit, scale: float, width: float = WIDTH) -> str:
    """Draw one section's lengthening above its shares, both from the same zero line.

    Upper bar, plain: the lengthening. Lower bar: hatched the share of crown wear, then solid the
    stretch that is left. Whiskers are U at k = 2. A negative share lies left of its start.

    Args:
        item: the split; shares that are not established (NaN) are left out.
        scale: lengthening at the right end, a ratio above zero (`split_scale`).
        width: of the picture, in points; the height is `HEIGHT`.
    """
    return picture(width, HEIGHT, _parts(item, scale, width))


def _parts(item: ChainSplit, scale: float, width: float) -> Iterator[str]:
    zero = _MARGIN + 0.12 * width
    factor = (width - _MARGIN - zero) / scale

    def at(value: float) -> float:
        return min(max(zero + value * factor, 1.0), width - 1.0)

    yield from _bar(zero, at(item.elongation), 4.0, fill="#fff")
    yield from _whisker(at, item.elongation, item.elongation_uncertainty, 9.5)
    if math.isfinite(item.wear):
        yield from _bar(zero, at(item.wear), 21.0, fill="#fff", hatched=True)
        yield from _bar(at(item.wear), at(item.wear + item.stretch), 21.0, fill=PALE)
        yield from _whisker(at, item.wear, item.wear_uncertainty, 24.5)
        yield from _whisker(at, item.wear + item.stretch, item.stretch_uncertainty, 29.0)
    yield line(zero, 1.0, zero, HEIGHT - 1.0, width=1.2)


def _bar(start: float, end: float, y: float, *, fill: str, hatched: bool = False) -> Iterator[str]:
    left, right = min(start, end), max(start, end)
    yield box(left, y, right - left, 11.0, fill=fill, ink=INK)
    if hatched:
        yield hatch(left, y, right - left, 11.0, step=3.0, ink=GREY)


def _whisker(at: _Place, value: float, u: float, y: float) -> Iterator[str]:
    low, high = at(value - COVERAGE * u), at(value + COVERAGE * u)
    yield line(low, y, high, y, width=1.4)
    yield line(low, y - 2.4, low, y + 2.4, width=1.1)
    yield line(high, y - 2.4, high, y + 2.4, width=1.1)
