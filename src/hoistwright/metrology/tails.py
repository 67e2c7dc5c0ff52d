"""Tails and quantiles of the normal and of Student's distribution.

A standard uncertainty with ν effective degrees of freedom gives (x − true)/u the t
distribution with ν degrees of freedom; infinitely many make it normal (GUM G.3, G.6.4).
"""

from __future__ import annotations

import numpy as np

from hoistwright.metrology.arrays import FloatLike, Floats, as_floats, rows_where

TWO_SIGMA = 0.954499736103641585599434725666933  # erf(√2): the coverage that gives k = 2 exactly


def distribution(z: FloatLike, dof: FloatLike = np.inf) -> Floats:
    """Probability that the standardised error is at most z.

    P = Φ(z) for infinite ν, else the cumulative t distribution with ν degrees of freedom.

    Args:
        z: standardised distance, any shape; NaN gives NaN.
        dof: degrees of freedom ν > 0, may be infinite; broadcasts with z.

    Returns:
        float64 array of the broadcast shape.

    References:
        JCGM 100:2008 (GUM), G.3.2, from memory.

    >>> float(distribution(-1.6448536269514722).round(12))
    0.05
    """
    from scipy.special import ndtr, stdtr

    z, dof = as_floats(z), as_floats(dof)
    if dof.ndim == 0 and np.isposinf(dof):
        return as_floats(ndtr(z))
    finite = dof != np.inf  # NaN counts here, and comes out as NaN
    if not finite.any():
        return as_floats(ndtr(z))
    if finite.all():
        return as_floats(stdtr(dof, z))
    z, dof, finite = np.broadcast_arrays(z, dof, finite)
    result = np.array(ndtr(z))
    at = rows_where(finite)
    result[at] = stdtr(dof[at], z[at])
    return result


def guard_factor(r: float, dof: FloatLike = np.inf) -> Floats:
    """The multiple of u that keeps for ν degrees of freedom what r keeps for infinitely many.

    r_ν = −t_ν⁻¹(Φ(−r)). For r = 2 this is the k of an expanded uncertainty with 95.45 %
    coverage, so that the guard band g = r_ν·u equals U.

    Args:
        r: the guard band parameter of the rule, ≥ 0.
        dof: degrees of freedom ν > 0, may be infinite.

    Returns:
        float64 array of the shape of `dof`; r itself where ν is infinite.

    References:
        JCGM 106:2012, 8.3.2 (guard band as a multiple of the uncertainty); GUM G.3.4 and
        table G.2 (t for finite ν); both from memory.

    >>> float(guard_factor(2.0, 16).round(2))
    2.17
    """
    from scipy.special import ndtr, stdtrit

    if not (np.isfinite(r) and r >= 0):
        raise ValueError(f"the guard band parameter r is {r}; expected a finite figure, 0 or more")
    dof = as_floats(dof)
    result = np.full(dof.shape, float(r))
    finite = np.isfinite(dof)
    if r > 0 and finite.any():
        result[finite] = -stdtrit(dof[finite], ndtr(-r))
    return result


def coverage_factor(coverage: float = TWO_SIGMA, dof: FloatLike = np.inf) -> Floats:
    """The coverage factor k for a two-sided coverage interval.

    k = t_ν⁻¹((1 + p)/2), not rounded and ν not cut to a whole number (GUM G.4.2 allows both).

    Args:
        coverage: probability p inside ±k·u, between 0 and 1.
        dof: degrees of freedom ν > 0, may be infinite.

    Returns:
        float64 array of the shape of `dof`.

    References:
        JCGM 100:2008 (GUM), G.4 and table G.2, from memory.

    >>> float(coverage_factor(0.99, 16).round(2))
    2.92
    >>> float(coverage_factor())
    2.0
    """
    from scipy.special import ndtri

    if not 0 < coverage < 1:
        raise ValueError(f"the coverage probability is {coverage}; expected between 0 and 1")
    if coverage == TWO_SIGMA:
        return guard_factor(2.0, dof)
    return guard_factor(-float(ndtri((1 - coverage) / 2)), dof)
