"""A limit as a technician reads it off a sheet: the figure at which the part is done."""

from __future__ import annotations

from hoistwright.basis.rulings import Ruling
from hoistwright.examine.points import Point
from hoistwright.hoist.design import Design
from hoistwright.quantity import show

_DONE = {
    "elongation": "elongation",
    "rise from as new": "rise",
    "rise by": "rise",
    "loss from as new": "loss",
    "loss by": "loss",
}


def limit_words(design: Design, point: Point, unit: str) -> str:
    """All limits over a point, as readings where the as-new value allows it.

    >>> from hoistwright.examine.points import Point
    >>> limit_words(None, Point(part="p", part_name="p", feature="hook.throat", name="throat",
    ...     place="", measured=True, ask="", how="", stage="stripped"), "mm")
    'no limit known'
    """
    if not point.measured:
        return "in order" if point.rulings else "recorded only"
    if point.reference:
        return "stands for as new"
    words = dict.fromkeys(_words(design, point, ruling, unit) for ruling in point.rulings)
    return "; ".join(words) or "no limit known"


def _words(design: Design, point: Point, ruling: Ruling, unit: str) -> str:
    most = "at least" if ruling.comparison in ("at least", "loss by", "loss from as new") else None
    most = most or "at most"
    limit = reading_limit(design, point, ruling)
    name = _DONE.get(ruling.comparison, "")
    if limit is None:
        return f"{name} at most {ruling.limit_text}"
    shown = f"{most} {show(limit, point.dimension, unit)}"
    return f"{shown} ({name} {ruling.limit_text})" if name else shown


def reading_limit(design: Design, point: Point, ruling: Ruling) -> float | None:
    """The reading (SI) that stands exactly at a limit; None without the as-new value.

    x0 (1 + l) for a rise by share, x0 + l n p for the elongation of a gauge length of n links
    with pitch p, and so on: the comparisons of `hoist/limits.py` solved for the reading.
    """
    limit, new = ruling.limit_si, point.baseline
    if limit is None or ruling.comparison in ("at most", "at least"):
        return limit
    if new is None:
        return None
    if ruling.comparison == "elongation":
        pitch, links = design.load_chain.pitch, point.links
        return None if pitch is None or links is None else new.value + limit * links * pitch
    change = limit * new.value if ruling.comparison.endswith("from as new") else limit
    return new.value + change if ruling.comparison.startswith("rise") else new.value - change
