"""From a limit as written ("2.5 %", "6 mm") to the SI figure a comparison needs."""

from __future__ import annotations

import datetime
from typing import Literal

import attrs

from hoistwright.basis.model import Criterion, DatedLimit, limit_on
from hoistwright.hoist.feature import Measure, measure
from hoistwright.hoist.limits import Comparison
from hoistwright.quantity import Dimension, QuantityError, parse

Side = Literal["upper", "lower", "none"]

SHARES: frozenset[str] = frozenset({"elongation", "rise from as new", "loss from as new"})
"""The comparisons whose limit is a share of the as-new value."""

_DIMENSIONS = {
    "length": Dimension.LENGTH,
    "angle": Dimension.ANGLE,
    "force": Dimension.FORCE,
    "number": Dimension.NUMBER,
}


@attrs.frozen
class LimitValue:
    """A dated limit with its figure in SI (None for a look and for a table)."""

    dated: DatedLimit
    si: float | None


def side_of(comparison: Comparison) -> Side:
    """On which side of what is judged the limit stands.

    >>> side_of("at least"), side_of("loss by"), side_of("in order")
    ('lower', 'upper', 'none')
    """
    if comparison == "in order":
        return "none"
    return "lower" if comparison == "at least" else "upper"


def limit_dimension(comparison: Comparison, feature: Measure) -> Dimension:
    """What a limit of this comparison measures: a share, or the feature's own dimension."""
    return Dimension.RATIO if comparison in SHARES else _DIMENSIONS[feature.dimension]


def limit_si(text: str, comparison: Comparison, feature: Measure) -> float:
    """The limit `text` in SI. Raises QuantityError saying what may stand there.

    A share of 100 % or more is taken for a forgotten per cent sign and refused.
    """
    found = parse(text, limit_dimension(comparison, feature), decimal=".").si
    if found <= 0.0:
        raise QuantityError(f"'{text}'", "a limit above zero")
    if comparison in SHARES and found >= 1.0:
        raise QuantityError(f"'{text}'", "a share below 100 %, such as 2.5 %", "Is the % missing?")
    return found


def settled(value: float, limit: float) -> float:
    """`limit` where `value` differs from it by less than 1e-12 (SI), else `value`.

    A picometre, or a share of 1e-12, is far below any reading. Without this a throat of 44 mm
    over one of 40 mm is 9.99999999999999 % in binary figures and not at its limit of 10 %.

    >>> (0.044 - 0.040) / 0.040 < 0.1, settled((0.044 - 0.040) / 0.040, 0.1)
    (True, 0.1)
    """
    return limit if abs(value - limit) < 1e-12 else value


def criterion_limit(criterion: Criterion, day: datetime.date) -> LimitValue | None:
    """The limit of `criterion` on `day` and its figure in SI; None where none was in force."""
    dated = limit_on(criterion, day)
    if dated is None:
        return None
    if not dated.value:
        return LimitValue(dated, None)
    return LimitValue(
        dated, limit_si(dated.value, criterion.comparison, measure(criterion.feature))
    )
