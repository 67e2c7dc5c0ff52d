"""Rough figures straight from the readings: where the fit begins, and the scale of things."""

from __future__ import annotations

import math

import attrs
import numpy as np

from hoistwright.metrology.arrays import Floats
from hoistwright.wear.visits import Visits


@attrs.frozen(kw_only=True)
class Rough:
    """Rate and its spread among hoists, the usual gap between visits, the spread of unknown
    starts, and the logarithm of the factor that the stated uncertainties may need.
    """

    rate: float
    rate_spread: float
    gap: float
    start_spread: float
    log_noise: float


def rough(visits: Visits) -> Rough:
    """Moments of the readings, robust to a wrong one.

    Slope of each hoist = Σ(t − t̄)(y − ȳ)/Σ(t − t̄)², over its readings since the first start (and
    through the start where that is known); median of |slope| and quartiles over hoists.

    Args:
        visits: padded readings.

    Returns:
        Figures all above 0 (the rate as a magnitude), fit to start a search from.

    References:
        own working; only the start of the search and the scale of mild assumptions hang on it.
    """
    slope, level, gaps, seen = _lines(visits)
    if not slope.size:
        return Rough(rate=1.0, rate_spread=0.5, gap=1.0, start_spread=1.0, log_noise=0.0)
    scale = max(float(np.median(np.abs(slope))), 1e-9 * _size(visits), 1e-300)
    spread = float(np.subtract(*np.percentile(slope, [75, 25]))) / 1.349
    usual = float(np.median(visits.u[seen]))
    starts = float(np.std(level)) if level.size > 1 else usual
    return Rough(
        rate=scale,
        rate_spread=min(max(spread, 0.05 * scale), 20 * scale),
        gap=float(np.median(gaps)) if gaps.size else 1.0,
        start_spread=max(starts, usual, 1e-12),
        log_noise=math.log(max(starts, usual) / (2 * usual)) if starts > usual else 0.0,
    )


def _size(visits: Visits) -> float:
    found = np.abs(visits.value[visits.read])
    return float(found.max()) if found.size else 1.0


def _lines(visits: Visits) -> tuple[Floats, Floats, Floats, Floats]:
    """Least-squares slope per hoist, value at first sight, gaps, and which slots are read."""
    first_life = np.cumsum(visits.fresh, axis=0) == 1
    seen = visits.read & first_life
    t = np.cumsum(np.where(first_life, visits.gap, 0.0), axis=0)
    y = np.where(seen, visits.value, 0.0)
    known = ~np.isnan(visits.start_u[0])
    start = np.where(known, visits.start[0], 0.0)
    n = seen.sum(axis=0) + known
    many = np.maximum(n, 1)
    tm = (t * seen).sum(axis=0) / many
    ym = (y.sum(axis=0) + start) / many
    away = np.where(seen, t - tm, 0.0)
    square = (away**2).sum(axis=0) + known * tm**2
    cross = (away * (y - ym * seen)).sum(axis=0) - known * tm * (start - ym)
    good = (square > 0) & (n > 1)
    slope = cross[good] / square[good]
    level = (ym - np.where(good, cross / np.where(square > 0, square, 1.0), 0.0) * tm)[~known]
    return slope, level, visits.gap[visits.gap > 0], seen
