"""Readings to verdicts in one pass: derive, combine, guard, decide, for any number of rows."""

from __future__ import annotations

from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from hoistwright.metrology.arrays import Codes, FloatLike, Floats, as_floats, for_blocks
from hoistwright.metrology.budget import Component, combine
from hoistwright.metrology.conformity import Side, check_sides, decide_block
from hoistwright.metrology.derived import Form, derive
from hoistwright.metrology.rules import GUARDED, DecisionRule


@attrs.frozen(eq=False)
class Judged:
    """One element per row: derived value, its u and ν, verdict code, probability beyond."""

    value: Floats
    uncertainty: Floats
    dof: Floats
    codes: Codes
    beyond: Floats


def judge_rows(
    form: Form,
    reading: FloatLike,
    components: Sequence[Component],
    limit: FloatLike,
    side: int | NDArray[np.int8] = Side.UPPER,
    *,
    as_new: FloatLike = np.nan,
    as_new_components: Sequence[Component] = (),
    rule: DecisionRule = GUARDED,
) -> Judged:
    """The whole way from readings to verdicts, in blocks that stay in the processor's cache.

    The same as `derive`, `combine` and `decide` one after the other, without whole-length
    arrays in between.

    Args:
        form: the derived quantity that the limit is for.
        reading: readings x, a scalar or shape (n,), SI.
        components: sources of uncertainty of the reading; u, sensitivity and ν scalar or (n,).
        limit: limits of the derived quantity, scalar or (n,).
        side: +1 upper, −1 lower, scalar or (n,).
        as_new: as-new values x0, scalar or (n,).
        as_new_components: their sources of uncertainty; none takes x0 as exact.
        rule: the decision rule.

    Returns:
        Arrays of shape (n,), or 0-d arrays where everything is scalar.

    Raises:
        ValueError: no component, a side other than ±1, arrays of unlike length.

    References:
        As `hoistwright.metrology.budget.budget` and `hoistwright.metrology.conformity.decide`.

    >>> j = judge_rows(Form.RISE, np.array([0.1600, 0.1631, 0.1640]), [Component("scale", 9e-5)],
    ...                0.02, as_new=0.160)
    >>> j.codes.tolist(), j.value.round(4).tolist()
    ([0, 1, 3], [0.0, 0.0194, 0.025])
    """
    if not components:
        raise ValueError("the reading has no component of uncertainty; expected at least one")
    x, x0, L, s = (as_floats(part) for part in (reading, as_new, limit, side))
    check_sides(s)
    mine = [_Source.of(part) for part in components]
    theirs = [_Source.of(part) for part in as_new_components if form is not Form.DIRECT]
    result = _empty(_shape([x, x0, L, s], [*mine, *theirs]))
    flat = [part.reshape(-1) for part in (result.value, result.uncertainty, result.dof)]
    codes, beyond = result.codes.reshape(-1), result.beyond.reshape(-1)

    def work(block: slice) -> None:
        y, c_x, c_x0 = derive(form, _cut(x, block), _cut(x0, block))
        parts = [source.rows(block, c_x) for source in mine]
        u, dof = combine([*parts, *(source.rows(block, c_x0) for source in theirs)])
        for out, part in zip(flat, (y, u, dof), strict=True):
            out[block] = part
        value, uncertainty, freedom = (out[block] for out in flat)
        limits, sides = _cut(L, block), _cut(s, block)
        decide_block(value, uncertainty, limits, sides, freedom, rule, codes[block], beyond[block])

    for_blocks(codes.size, work)
    return result


@attrs.frozen(eq=False)
class _Source:
    """A component as plain arrays, to be cut into blocks."""

    u: Floats
    sensitivity: Floats
    dof: Floats

    @classmethod
    def of(cls, part: Component) -> _Source:
        return cls(as_floats(part.u), as_floats(part.sensitivity), as_floats(part.dof))

    def rows(self, block: slice, factor: Floats) -> tuple[Floats, Floats]:
        """Contribution c·u and ν in these rows, seen through one more sensitivity."""
        slope = _cut(self.sensitivity, block)
        plain = slope.ndim == 0 and slope == 1  # the usual case, worth a pass less
        c = factor if plain else slope * factor
        return as_floats(c * _cut(self.u, block)), _cut(self.dof, block)


def _cut(part: Floats, block: slice) -> Floats:
    return part if part.ndim == 0 else part[block]


def _shape(arrays: Sequence[Floats], sources: Sequence[_Source]) -> tuple[int, ...]:
    parts = [part for source in sources for part in (source.u, source.sensitivity, source.dof)]
    shapes = {part.shape for part in (*arrays, *parts)} - {()}
    if not shapes:
        return ()
    shape = shapes.pop()
    if shapes or len(shape) != 1:
        raise ValueError(
            f"arrays of the shapes {sorted({shape, *shapes})}; expected scalars and rows of one "
            "common length"
        )
    return shape


def _empty(shape: tuple[int, ...]) -> Judged:
    value, uncertainty, dof, beyond = (np.empty(shape) for _ in range(4))
    return Judged(value, uncertainty, dof, np.empty(shape, np.int8), beyond)
