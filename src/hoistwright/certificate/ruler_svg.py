"""The wear ruler as a small vector picture. Meaning is in the shapes; grey is only quieter."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from hoistwright.certificate.svg import (
    GREY,
    INK,
    box,
    hatch,
    line,
    picture,
    ring,
    shape,
    stroke,
)
from hoistwright.examine.ruler import Ruler

_Place = Callable[[float], float]

HEIGHT = 26.0
WIDTH = 160.0
_MARGIN = 8.0
_AXIS = 16.0


def ruler_svg(ruler: Ruler, width: float = WIDTH) -> str:
    """Draw a ruler: as new to the left, worse to the right.

    A tall tick is as new; the hatched box is the guard band; the double line is the limit; the
    diamond is the reading and the whisker its U; hollow dots are earlier readings; an arrow
    points to a reading that lies off the ruler; a question mark says not established.

    Args:
        ruler: the places along it, 0 to 1.
        width: of the picture, in points; the height is `HEIGHT`.

    Returns:
        An SVG document. The same ruler gives the same text.

    >>> from hoistwright.metrology import Outcome
    >>> svg = ruler_svg(Ruler(outcome=Outcome.FIT, value=0.5, low=0.4, high=0.6))
    >>> svg.startswith("<svg"), "NaN" in svg
    (True, False)
    """
    return picture(width, HEIGHT, _parts(ruler, width))


def _parts(ruler: Ruler, width: float) -> Iterator[str]:
    def at(place: float) -> float:
        return _MARGIN + place * (width - 2.0 * _MARGIN)

    limit = at(ruler.limit)
    yield line(at(0.0), _AXIS, at(1.0), _AXIS, width=0.8, ink=GREY)
    if ruler.acceptance is not None:
        yield from _guard(at(ruler.acceptance), limit)
    if ruler.new is not None:
        yield line(at(ruler.new), _AXIS - 6.0, at(ruler.new), _AXIS + 6.0, width=1.1)
    yield line(limit - 1.4, 3.0, limit - 1.4, HEIGHT - 1.0, width=1.3)
    yield line(limit + 1.4, 3.0, limit + 1.4, HEIGHT - 1.0, width=1.3)
    for ghost in ruler.ghosts:
        yield ring(at(ghost), _AXIS, 2.1, ink=INK)
    yield from _reading(ruler, at)


def _guard(acceptance: float, limit: float) -> Iterator[str]:
    """The guard band, on the good side of the limit; too narrow a one is only its edge."""
    left, right = min(acceptance, limit), max(acceptance, limit)
    yield box(left, _AXIS - 3.5, right - left, 7.0, fill="#fff", ink=GREY)
    yield hatch(left, _AXIS - 3.5, right - left, 7.0, step=2.6, ink=GREY)


def _reading(ruler: Ruler, at: _Place) -> Iterator[str]:
    if ruler.value is None:
        yield _question(at(0.36))
        return
    if ruler.low is not None and ruler.high is not None:
        yield from _whisker(at(ruler.low), at(ruler.high))
    x = at(ruler.value)
    if ruler.beyond_right or ruler.beyond_left:
        yield _arrow(x, 1.0 if ruler.beyond_right else -1.0)
    else:
        half = 4.2
        corners = [(x, _AXIS - half), (x + half, _AXIS), (x, _AXIS + half), (x - half, _AXIS)]
        yield shape(corners, ink="#fff")


def _whisker(low: float, high: float) -> Iterator[str]:
    yield line(low, _AXIS, high, _AXIS, width=1.8)
    yield line(low, _AXIS - 2.8, low, _AXIS + 2.8, width=1.1)
    yield line(high, _AXIS - 2.8, high, _AXIS + 2.8, width=1.1)


def _arrow(x: float, way: float) -> str:
    """A double-headed push against the end of the ruler."""
    tip = x + way * 6.0
    head = [(tip, _AXIS), (x - way * 3.0, _AXIS - 4.8), (x - way * 3.0, _AXIS + 4.8)]
    return shape(head, ink="#fff")


def _question(x: float) -> str:
    """A question mark, drawn so that no typeface is needed."""
    y = _AXIS
    hook = f"M{x - 3:.2f} {y - 5:.2f}C{x - 3:.2f} {y - 11:.2f} {x + 4:.2f} {y - 11:.2f} "
    hook += f"{x + 3.6:.2f} {y - 5.4:.2f}C{x + 3.4:.2f} {y - 3:.2f} {x:.2f} {y - 3:.2f} "
    hook += f"{x:.2f} {y + 1:.2f}"
    back = box(x - 6.0, y - 12.0, 12.0, 20.0, fill="#fff")
    return back + stroke(hook, width=1.7) + box(x - 1.1, y + 3.2, 2.2, 2.4, fill=INK)
