"""Quantities derived from a reading and its as-new value, with their sensitivities."""

from __future__ import annotations

from enum import Enum

import attrs
import numpy as np

from hoistwright.metrology.arrays import FloatLike, Floats, as_floats
from hoistwright.metrology.budget import Budget, budget

EXACT_AS_NEW = "the as-new value is taken as exact: no uncertainty is stated for it"


class Form(Enum):
    """How the judged quantity y follows from the reading x and the as-new value x0."""

    DIRECT = "x"
    DIFFERENCE = "x - x0"
    RISE = "(x - x0)/x0"
    LOSS = "(x0 - x)/x0"
    REMAINING = "x/x0"


def derive(form: Form, x: FloatLike, x0: FloatLike = np.nan) -> tuple[Floats, Floats, Floats]:
    """The derived quantity and its sensitivities to reading and as-new value.

    With y the value, returns (y, ∂y/∂x, ∂y/∂x0):
    x: (x, 1, 0);  x − x0: (x − x0, 1, −1);  (x − x0)/x0: (y, 1/x0, −x/x0²);
    (x0 − x)/x0: the same with opposite signs;  x/x0: (y, 1/x0, −x/x0²).

    Args:
        form: which quantity.
        x: reading, any shape.
        x0: as-new value, broadcasts with x; needed by all forms but DIRECT.

    Returns:
        Three float64 arrays. Where x0 is not a figure above 0, a ratio is NaN: not established.

    References:
        JCGM 100:2008 (GUM), 5.1.3 (sensitivity coefficients), from memory.

    >>> [float(v) for v in derive(Form.RISE, 168.0, 160.0)]
    [0.05, 0.00625, -0.0065...]
    """
    x, x0 = as_floats(x), as_floats(x0)
    if form is Form.DIRECT:
        return x, as_floats(1.0), as_floats(0.0)
    with np.errstate(all="ignore"):
        if form is Form.DIFFERENCE:
            return as_floats(x - x0), as_floats(1.0), as_floats(-1.0)
        return _relative(form, x, x0)


def _relative(form: Form, x: Floats, x0: Floats) -> tuple[Floats, Floats, Floats]:
    positive = x0 > 0
    if not positive.all():
        x0 = as_floats(np.where(positive, x0, np.nan))
    slope = as_floats(1.0 / x0)
    cross = as_floats((x * slope) * slope)
    if form is Form.REMAINING:
        return as_floats(x / x0), slope, as_floats(-cross)
    # the difference first: (x - x0)/x0 keeps digits that x/x0 - 1 would lose
    rise = as_floats((x - x0) / x0)
    if form is Form.RISE:
        return rise, slope, as_floats(-cross)
    return as_floats(-rise), as_floats(-slope), cross


def derived_budget(
    form: Form,
    x: FloatLike,
    reading: Budget,
    x0: FloatLike = np.nan,
    as_new: Budget | None = None,
) -> tuple[Floats, Budget]:
    """The derived quantity with its budget; every source stays visible in it.

    Args:
        form: which quantity.
        x: reading.
        reading: the reading's budget.
        x0: as-new value.
        as_new: its budget; None takes it as exact, and a note says so.

    Returns:
        The value and the budget. Component names get "as new: " before the as-new sources.

    References:
        JCGM 100:2008 (GUM), 5.1.2 eq. (10), from memory.

    >>> from hoistwright.metrology.budget import Component
    >>> y, b = derived_budget(Form.RISE, 0.168, budget([Component("scale", 0.0002)]), 0.160,
    ...                       budget([Component("scale", 0.0001)]))
    >>> float(y.round(4)), float(b.u.round(6)), [c.name for c in b.components]
    (0.05, 0.001412, ['scale', 'as new: scale'])
    """
    y, c_x, c_x0 = derive(form, x, x0)
    parts = [part.scaled(c_x) for part in reading.components]
    notes = list(reading.notes)
    if form is not Form.DIRECT and as_new is None:
        notes.append(EXACT_AS_NEW)
    elif form is not Form.DIRECT and as_new is not None:
        parts += [
            attrs.evolve(part.scaled(c_x0), name=f"as new: {part.name}")
            for part in as_new.components
        ]
        notes += [f"as new: {note}" for note in as_new.notes]
    return y, budget(parts, coverage=reading.coverage, notes=notes)
