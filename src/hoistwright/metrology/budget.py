"""The uncertainty budget: components in, combined and expanded uncertainty out.

Inputs are taken as independent. Two readings with one gauge share its calibration error;
for their difference the budget is then too large, which errs towards measuring again.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any

import attrs
import numpy as np

from hoistwright.metrology.arrays import FloatLike, Floats, as_floats, rows_where
from hoistwright.metrology.tails import TWO_SIGMA, coverage_factor


def _not_negative(_: object, attribute: attrs.Attribute[Any], value: Any) -> None:
    if (as_floats(value) < 0).any():
        raise ValueError(f"{attribute.name} is {value}; expected a standard uncertainty, 0 or more")


def _positive(_: object, attribute: attrs.Attribute[Any], value: Any) -> None:
    if (as_floats(value) <= 0).any():
        raise ValueError(f"{attribute.name} is {value}; expected above 0, or infinity")


def _kind(_: object, __: object, value: str) -> None:
    if value not in ("A", "B"):
        raise ValueError(f"kind is {value!r}; expected 'A' (from repeats) or 'B' (from knowledge)")


@attrs.frozen(eq=False)
class Component:
    """One source of uncertainty: u of the input, its sensitivity c, degrees of freedom ν.

    `u`, `sensitivity` and `dof` are scalars, or arrays with one element per row.
    `source` says in words where the figure comes from.
    """

    name: str
    u: FloatLike = attrs.field(validator=_not_negative)
    sensitivity: FloatLike = 1.0
    dof: FloatLike = attrs.field(default=np.inf, validator=_positive)
    kind: str = attrs.field(default="B", validator=_kind)
    source: str = ""

    @property
    def contribution(self) -> Floats:
        """|c|·u, in the unit of the result."""
        return np.abs(as_floats(self.sensitivity) * self.u)

    def scaled(self, factor: FloatLike) -> Component:
        """The same source seen through one more sensitivity, as in a derived quantity."""
        return attrs.evolve(self, sensitivity=self.sensitivity * factor)


@attrs.frozen(eq=False)
class Budget:
    """A combined uncertainty and what it is made of, the largest contribution first.

    u is the combined standard uncertainty, dof the effective degrees of freedom, k the
    coverage factor for `coverage`; each a 0-d array or one with an element per row.
    `notes` say what the budget leaves out.
    """

    components: tuple[Component, ...]
    u: Floats
    dof: Floats
    k: Floats
    coverage: float
    notes: tuple[str, ...] = ()

    @property
    def expanded(self) -> Floats:
        """U = k·u."""
        return as_floats(self.k * self.u)

    def share(self, component: Component) -> Floats:
        """The component's part of the variance, 0 to 1 (0 where there is no variance)."""
        variance = np.square(self.u)
        part = np.square(component.contribution)
        return as_floats(np.divide(part, variance, out=np.zeros_like(part), where=variance > 0))


def budget(
    components: Iterable[Component],
    *,
    coverage: float = TWO_SIGMA,
    notes: Sequence[str] = (),
) -> Budget:
    """Combine independent components by the law of propagation of uncertainty.

    u_c² = Σ (c_i u_i)²;  ν_eff = u_c⁴ / Σ (c_i u_i)⁴/ν_i;  U = k·u_c with k = t(ν_eff).

    Args:
        components: one or more; scalars, or arrays of one common length.
        coverage: two-sided coverage probability of U; the default gives k = 2 for ν = ∞.
        notes: sentences to carry along.

    Returns:
        The budget. ν_eff is not cut to a whole number. NaN in a component gives NaN in its row.
        Valid for contributions between about 1e-150 and 1e150 in SI; smaller ones count as none.

    Raises:
        ValueError: no component.

    References:
        JCGM 100:2008 (GUM), 5.1.2 eq. (10), G.4.1 eq. (G.2b), 6.2.1; from memory.

    >>> b = budget([Component("scale", 3.0), Component("repeats", 4.0, dof=4, kind="A")])
    >>> float(b.u), round(float(b.dof), 4), [c.name for c in b.components]
    (5.0, 9.7656, ['repeats', 'scale'])
    """
    parts = list(components)
    if not parts:
        raise ValueError("the budget has no component; expected at least one")
    u, dof = combine([(part.contribution, as_floats(part.dof)) for part in parts])
    parts.sort(key=lambda part: -_size(part.contribution))
    k = coverage_factor(coverage, dof)
    return Budget(tuple(parts), u, dof, k, coverage, tuple(notes))


def combine(contributions: Sequence[tuple[Floats, Floats]]) -> tuple[Floats, Floats]:
    """Root sum of squares and Welch-Satterthwaite, for one row or for a block of rows.

    Args:
        contributions: pairs of c·u (of either sign) and ν, scalars or rows of one length.

    Returns:
        Combined standard uncertainty and effective degrees of freedom, of the broadcast shape.

    References:
        JCGM 100:2008 (GUM), eq. (10) and (G.2b), from memory.

    >>> u, dof = combine([(as_floats(3.0), as_floats(9.0)), (as_floats(4.0), as_floats(np.inf))])
    >>> float(u), round(float(dof), 3)
    (5.0, 69.444)
    """
    with np.errstate(all="ignore"):  # NaN, or beyond all measure: not established further on
        squares = [np.square(contribution) for contribution, _ in contributions]
        variance = squares[0].copy()
        for square in squares[1:]:
            same = variance.shape == square.shape
            variance = _add(variance, square) if same else variance + square
        dof = _effective(squares, [dof for _, dof in contributions], variance)
        return as_floats(np.sqrt(variance)), dof


def _add(total: Floats, more: Floats) -> Floats:
    total += more
    return total


def _effective(squares: Sequence[Floats], dofs: Sequence[Floats], variance: Floats) -> Floats:
    """ν_eff, computed only in the rows where some component has finite ν."""
    finite = np.zeros((), np.bool_)
    for dof in dofs:
        finite = finite | (dof != np.inf)  # NaN counts here, and comes out as NaN
    result = np.full(variance.shape, np.inf)
    if not finite.any():
        return result
    at = rows_where(np.broadcast_to(finite, variance.shape))
    some = [(_pick(square, at), _pick(dof, at)) for square, dof in zip(squares, dofs, strict=True)]
    result[at] = _welch_satterthwaite(some, variance[at])
    return result


def _welch_satterthwaite(parts: Sequence[tuple[Floats, Floats]], variance: Floats) -> Floats:
    """From each component's share of the variance, so that the scale of the unit drops out."""
    loss = as_floats(sum(np.square(square / variance) / dof for square, dof in parts))
    return as_floats(np.where(variance == 0, np.inf, 1.0 / loss))


def _pick(part: Floats, at: Any) -> Floats:
    return part if part.ndim == 0 else as_floats(part[at])


def _size(contribution: Floats) -> float:
    """How much a component weighs: its root mean square over rows; what is unknown goes first."""
    if contribution.size == 0:
        return 0.0
    size = float(np.sqrt(np.mean(np.square(contribution))))
    return math.inf if math.isnan(size) else size
