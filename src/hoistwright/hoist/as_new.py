"""As-new values of measured features, with how far they may be off.

A baseline that the design does not state is None: what leans on it is "not established".
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import attrs

from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import Measure
from hoistwright.hoist.parts import Part
from hoistwright.quantity import Dimension, parse


@attrs.frozen
class Baseline:
    """An as-new value (SI), its standard uncertainty (SI) and where it comes from."""

    value: float
    uncertainty: float
    source: str


def as_new(
    design: Design, part: Part, measure: Measure, *, links: int | None = None
) -> Baseline | None:
    """The as-new value of `measure` on `part`, or None where the design does not state it.

    `links` is the number of links of a chain gauge length; without it the design's own.
    The half-width the catalogue gives counts as rectangular: u = a/sqrt(3) (GUM 4.3.7).
    """
    found = _value(design, part, measure.as_new, links) or _by_maker(design, part, measure)
    if found is None:
        return None
    value, source = found
    half_width = abs(value) * (measure.as_new_half_width or 0.0)
    return Baseline(value, half_width / math.sqrt(3.0), source)


def gauge_links(design: Design) -> int | None:
    """Links of one gauge length: the design's own count, else as many as fit 330 mm.

    330 mm is the middle of the 305 to 356 mm (12 to 14 in) that ASME B30.16 names
    (wording as carried in DOE-STD-1090-96). None without a pitch.
    """
    chain = design.load_chain
    if chain.gauge_links is not None:
        return chain.gauge_links
    if chain.pitch is None:
        return None
    return max(1, round((0.330 - 2.0 * (chain.wire or 0.0)) / chain.pitch))


def chain_gauge_length(design: Design, links: int | None) -> float | None:
    """Outside length of the gauge links as new, n p + 2 d in m; None where unknown."""
    chain, count = design.load_chain, links or gauge_links(design)
    if chain.pitch is None or chain.wire is None or count is None:
        return None
    return count * chain.pitch + 2.0 * chain.wire


def _value(design: Design, part: Part, rule: str, links: int | None) -> tuple[float, str] | None:
    if rule == "zero":
        return 0.0, "zero as new"
    if rule == "chain gauge length":
        length = chain_gauge_length(design, links)
        count = links or gauge_links(design)
        return None if length is None else (length, f"design file: {count} p + 2 d")
    if rule == "hook mark distance or throat":
        rule = "hook.mark_distance" if _own(design, part, "mark_distance") else "hook.throat"
    return _looked_up(design, part, rule)


def _looked_up(design: Design, part: Part, rule: str) -> tuple[float, str] | None:
    table, _, key = rule.partition(".")
    own = table in ("hook", "pin", "spring", "stay_bolt")
    value = _own(design, part, key) if own else getattr(getattr(design, table, None), key, None)
    return None if value is None else (float(value), f"design file: {rule}")


def _by_maker(design: Design, part: Part, measure: Measure) -> tuple[float, str] | None:
    """What the maker states beside a limit; for this very part before the whole role."""
    feature = f"{part.role}.{measure.key}"
    stated = [
        limit
        for limit in design.maker_limits
        if limit.feature == feature and limit.as_new and limit.part in ("", part.key)
    ]
    own = max(stated, key=lambda limit: limit.part == part.key, default=None)
    if own is None:
        return None
    value = parse(own.as_new, Dimension(measure.dimension), decimal=".").si
    return value, f"design file: {feature}"


def _own(design: Design, part: Part, key: str) -> float | None:
    """A figure that the design states for this very part."""
    lists: tuple[Iterable[object], ...] = (
        design.hooks,
        design.pins,
        design.springs,
        design.stay_bolts,
    )
    for entries in lists:
        for entry in entries:
            if getattr(entry, "part", None) == part.key:
                value = getattr(entry, key, None)
                if value is not None:
                    return float(value)
    return None
