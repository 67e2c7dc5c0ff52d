"""Does a maker's limit carry a figure in a unit that its feature can have?"""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import Measure, measure
from hoistwright.hoist.limits import Comparison, MakerLimit
from hoistwright.quantity import Dimension, QuantityError, parse

_SHARES: frozenset[Comparison] = frozenset(("elongation", "rise from as new", "loss from as new"))
_DIMENSIONS = {
    "length": Dimension.LENGTH,
    "angle": Dimension.ANGLE,
    "force": Dimension.FORCE,
    "number": Dimension.NUMBER,
}


def limit_faults(design: Design) -> Iterator[tuple[str, str, str]]:
    """Key, what was read, what was expected: for every limit without a usable figure."""
    for limit in design.maker_limits:
        key = f"maker_limits[{limit.feature}].limit"
        feature = _measured(limit)
        if limit.as_new:
            found = _as_new_fault(limit, feature)
            if found:
                yield f"maker_limits[{limit.feature}].as_new", *found
        if limit.comparison == "in order":
            if limit.limit:
                yield key, repr(limit.limit), "no figure: a look is in order or it is not"
        elif feature is not None:
            for read, expected in _figure_faults(limit, feature):
                yield key, read, expected


def _measured(limit: MakerLimit) -> Measure | None:
    try:
        return measure(limit.feature)
    except KeyError:  # named elsewhere as an unknown feature
        return None


def _as_new_fault(limit: MakerLimit, feature: Measure | None) -> tuple[str, str] | None:
    """A size above zero in the feature's unit, on the good side of a limit that is one too."""
    if feature is None:  # named elsewhere where it is an unknown feature
        looked = limit.comparison == "in order"
        return (repr(limit.as_new), "no as-new value: nothing is measured") if looked else None
    dimension = _DIMENSIONS[feature.dimension]
    try:
        new = parse(limit.as_new, dimension, decimal=".").si
    except QuantityError as error:
        return error.read, error.expected
    if new <= 0:
        return repr(limit.as_new), "an as-new value above zero"
    if limit.comparison not in ("at least", "at most"):
        return None
    try:
        bound = parse(limit.limit, dimension, decimal=".").si
    except QuantityError:  # told of the limit itself
        return None
    good = new > bound if limit.comparison == "at least" else new < bound
    side = "above" if limit.comparison == "at least" else "below"
    return None if good else (repr(limit.as_new), f"an as-new value {side} the limit {limit.limit}")


def _figure_faults(limit: MakerLimit, feature: Measure) -> Iterator[tuple[str, str]]:
    share = limit.comparison in _SHARES
    dimension = Dimension.RATIO if share else _DIMENSIONS[feature.dimension]
    try:
        figure = parse(limit.limit, dimension, decimal=".").si
    except QuantityError as error:
        yield error.read, error.expected
        return
    if figure <= 0:
        yield repr(limit.limit), "a limit above zero"
    elif share and figure >= 1:
        yield repr(limit.limit), 'a share below 100 %, like "2.5 %"'
