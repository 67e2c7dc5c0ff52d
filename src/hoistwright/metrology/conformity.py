"""Hold values against limits: verdict codes and probabilities, for one row or a million."""

from __future__ import annotations

from enum import IntEnum

import attrs
import numpy as np
from numpy.typing import NDArray

from hoistwright.metrology.arrays import (
    Codes,
    FloatLike,
    Floats,
    as_floats,
    for_blocks,
    rows_where,
)
from hoistwright.metrology.outcome import Outcome
from hoistwright.metrology.rules import GUARDED, DecisionRule, RuleKind
from hoistwright.metrology.tails import distribution, guard_factor

ROUNDING = 1e-12  # of the limit: 168.3 mm of 165 mm is 2 %, whatever floating point makes of it
_NEAR = 1e-6
_STEP = np.int8(Outcome.BORDERLINE - Outcome.FIT)


class Side(IntEnum):
    """On which side of the limit a part is bad: above an UPPER, below a LOWER limit."""

    UPPER = 1
    LOWER = -1


@attrs.frozen(eq=False)
class Decisions:
    """Verdict codes (int8, see `Outcome`) and the probability of being beyond the limit."""

    codes: Codes
    beyond: Floats


def decide(
    value: FloatLike,
    uncertainty: FloatLike,
    limit: FloatLike,
    side: int | NDArray[np.int8] = Side.UPPER,
    *,
    dof: FloatLike = np.inf,
    rule: DecisionRule = GUARDED,
) -> Decisions:
    """Verdict and probability beyond the limit, row by row.

    Upper limit L, reading x, guard band g: renew if x ≥ L; fit if x + g ≤ L; else borderline.
    Lower limits mirrored. P(beyond) = F_ν((x − L)/u). g = r·u, for finite ν g = r_ν·u. With the
    probability rule, fit if P ≤ p_max and x < L. Renew goes first: at u = 0 a reading on
    its limit is renewed, with P = 1. A reading that only the rounding of floating point keeps
    below its limit (1e-12 of it) is on it.

    Args:
        value: readings x in SI, any shape.
        uncertainty: standard uncertainties u ≥ 0.
        limit: limits L.
        side: +1 for an upper limit, −1 for a lower one; scalar or per row.
        dof: effective degrees of freedom ν > 0; infinite by default.
        rule: the decision rule.

    Returns:
        Codes and probabilities of the broadcast shape (0-d for scalars). Where value,
        uncertainty or limit is not finite, or ν is NaN: not established, and NaN.

    Raises:
        ValueError: a negative u, a ν of 0 or less, a side other than ±1.

    References:
        JCGM 106:2012, 7.3 (probability of conformity), 8.3 (guard bands); ISO 14253-1; GUM G.3
        for finite ν; from memory.

    >>> d = decide([9.0, 9.9, 10.0, np.nan], 0.1, 10.0)
    >>> [Outcome(c).words for c in d.codes]
    ['fit', 'borderline', 'renew', 'not established']
    >>> d.beyond.round(4).tolist()
    [0.0, 0.1587, 0.5, nan]
    """
    x, u, L, s, nu = (as_floats(part) for part in (value, uncertainty, limit, side, dof))
    _check(u, nu)
    check_sides(s)
    shape = np.broadcast_shapes(x.shape, u.shape, L.shape, s.shape, nu.shape)
    codes, beyond = np.empty(shape, np.int8), np.empty(shape, np.float64)
    rows = [_flat(part, shape) for part in (x, u, L, s, nu)]
    flat_codes, flat_beyond = codes.reshape(-1), beyond.reshape(-1)

    def work(block: slice) -> None:
        x, u, L, s, nu = (part if part.ndim == 0 else part[block] for part in rows)
        decide_block(x, u, L, s, nu, rule, flat_codes[block], flat_beyond[block])

    for_blocks(codes.size, work)
    return Decisions(codes, beyond)


def decide_block(
    x: Floats,
    u: Floats,
    L: Floats,
    s: Floats,
    nu: Floats,
    rule: DecisionRule,
    codes: Codes,
    beyond: Floats,
) -> None:
    """The decision for one block of flat, checked rows, written into `codes` and `beyond`."""
    with np.errstate(all="ignore"):  # what is not finite is caught below
        sx, sL = as_floats(s * x), as_floats(s * L)
        edge = as_floats(sL - ROUNDING * np.abs(sL))
        renew = sx >= edge
        _probability(sx, sL, edge, u, nu, beyond)
        if rule.kind is RuleKind.GUARDED:
            fit = _guarded_fit(sx, sL, u, nu, beyond, rule.parameter)
        elif rule.kind is RuleKind.PROBABILITY:
            fit = beyond <= rule.parameter
        else:
            fit = sx < sL
    # fit 0, borderline 1; then the stronger words over it
    np.subtract(_STEP, fit, out=codes, casting="unsafe")
    np.copyto(codes, np.int8(Outcome.RENEW), where=renew)
    if not _all_known(x, u, L, nu):
        known = np.isfinite(x) & np.isfinite(u) & np.isfinite(L) & ~np.isnan(nu)
        np.copyto(codes, np.int8(Outcome.NOT_ESTABLISHED), where=~known)
        np.copyto(beyond, np.nan, where=~known)


def _all_known(x: Floats, u: Floats, L: Floats, nu: Floats) -> bool:
    """True only if nothing is missing; quick, since a sum keeps any NaN and any infinity."""
    with np.errstate(all="ignore"):
        return bool(np.isfinite(x.sum() + u.sum() + L.sum()) and not np.isnan(nu.sum()))


def _probability(
    sx: Floats, sL: Floats, edge: Floats, u: Floats, nu: Floats, beyond: Floats
) -> None:
    z = as_floats((sx - sL) / u)
    exact = u == 0
    if exact.any():
        z = as_floats(np.where(exact, np.where(sx >= edge, np.inf, -np.inf), z))
    beyond[...] = distribution(z, nu)


def _guarded_fit(
    sx: Floats, sL: Floats, u: Floats, nu: Floats, beyond: Floats, r: float
) -> NDArray[np.bool_]:
    """Where x + g ≤ L. For finite ν that is P ≤ Φ(−r), and P is known already.

    Only rows within a millionth of that edge are settled by the guard band itself, because
    its quantile costs more than all else together.
    """
    from scipy.special import ndtr

    fit = np.asarray(sx + r * u <= sL)
    finite = nu < np.inf
    if not finite.any():
        return fit
    shape = np.broadcast_shapes(beyond.shape, fit.shape)
    at = rows_where(np.broadcast_to(finite, shape))
    tail, p = float(ndtr(-r)), beyond[at]
    student = p <= tail
    near = np.abs(p - tail) <= _NEAR * tail
    if near.any():
        x, limit, spread, dof = (np.broadcast_to(part, shape)[at][near] for part in (sx, sL, u, nu))
        student[near] = x + guard_factor(r, dof) * spread <= limit
    fit = np.array(np.broadcast_to(fit, shape))
    fit[at] = student
    return fit


def guard_band(u: Floats, nu: Floats, rule: DecisionRule) -> Floats:
    """The guard band g of each row. The probability rule has one too: where P equals p_max."""
    if rule.kind is RuleKind.SIMPLE:
        return as_floats(0.0 * u)
    r = rule.parameter if rule.kind is RuleKind.GUARDED else _factor_of(rule.parameter)
    factor = as_floats(r) if nu.ndim == 0 and np.isposinf(nu) else guard_factor(r, nu)
    return as_floats(factor * u)


def _factor_of(p_max: float) -> float:
    from scipy.special import ndtri

    return 0.0 - float(ndtri(p_max))


def check_sides(s: Floats) -> None:
    """Refuse a side that is neither +1 nor −1."""
    if not (np.abs(s) == 1).all():
        raise ValueError("a side is neither +1 (upper limit) nor -1 (lower limit)")


def _check(u: Floats, nu: Floats) -> None:
    if (u < 0).any():
        raise ValueError(f"an uncertainty is negative ({np.nanmin(u):g}); expected 0 or more")
    if (nu <= 0).any():
        raise ValueError(f"degrees of freedom are {np.nanmin(nu):g}; expected above 0")


def _flat(part: Floats, shape: tuple[int, ...]) -> Floats:
    """Scalars stay scalars; everything else becomes one long row."""
    return part if part.ndim == 0 else np.broadcast_to(part, shape).reshape(-1)
