"""Pictures of an offer: repair beside a new hoist, and what renewing a part costs against leaving.

Bars are told apart by pattern, never by colour alone; the words stand beside the picture.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hoistwright.certificate.svg import GREY, INK, PALE, box, hatch, line, picture

WIDTH, HEIGHT = 360.0, 64.0
_BAR = 18.0
_LEFT, _RIGHT = 4.0, 4.0


def repair_svg(parts: Sequence[int], new: int | None, share: float = 0.0) -> str:
    """Above, the repair stacked of its parts; below, a new hoist, with the mark from which the
    shop advises against repair.

    Args:
        parts: amounts of the repair in the order drawn: plain, hatched, grey, plain again.
        new: price of a new hoist less scrap; None: only the repair is drawn.
        share: of the new price from which repair is not advised; 0: no mark.
    """
    most = max(sum(parts), new or 0, 1)
    scale = (WIDTH - _LEFT - _RIGHT) / most
    height = HEIGHT if new else HEIGHT - 30.0
    return picture(WIDTH, height, _repair(parts, new, share, scale))


def _repair(parts: Sequence[int], new: int | None, share: float, scale: float) -> Iterator[str]:
    x = _LEFT
    for at, amount in enumerate(parts):
        width = amount * scale
        yield from _bar(x, 6.0, width, at)
        x += width
    if new:
        yield box(_LEFT, 36.0, new * scale, _BAR, fill="#fff", ink=INK)
        if share:
            mark = _LEFT + share * new * scale
            yield line(mark, 2.0, mark, 60.0, width=1.6)
    yield line(_LEFT, 0.0, _LEFT, HEIGHT if new else HEIGHT - 30.0, width=1.4)


def weighing_svg(now: int, leaving: int, most: int) -> str:
    """Two bars from one line: above, plain, renewing now; below, hatched, leaving it, on average.

    Args:
        now: cost of renewing now, minor units.
        leaving: expected cost of leaving it.
        most: amount at the right end, the same for all parts of a page.
    """
    scale = 196.0 / max(most, 1)
    parts = [
        box(2.0, 3.0, max(now * scale, 0.6), 12.0, fill="#fff", ink=INK),
        box(2.0, 20.0, max(leaving * scale, 0.6), 12.0, fill="#fff", ink=INK),
        hatch(2.0, 20.0, leaving * scale, 12.0, step=4.0, ink=INK),
        line(2.0, 0.0, 2.0, 35.0, width=1.4),
    ]
    return picture(200.0, 35.0, parts)


def _bar(x: float, y: float, width: float, at: int) -> Iterator[str]:
    """Plain, hatched, grey: the same order as the words beside it."""
    if width <= 0:
        return
    yield box(x, y, width, _BAR, fill=PALE if at == 2 else "#fff", ink=INK)
    if at == 1:
        yield hatch(x, y, width, _BAR, step=4.0, ink=GREY)
