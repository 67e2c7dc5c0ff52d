"""The marginal likelihood of the hyperparameters, with its exact slopes."""

from __future__ import annotations

import math

import attrs
import numpy as np

from hoistwright.metrology.arrays import Floats
from hoistwright.wear.backward import Backward, backward
from hoistwright.wear.filtering import Filtered, Y, forward
from hoistwright.wear.means import Means, means
from hoistwright.wear.spread import Spread
from hoistwright.wear.visits import Visits


@attrs.frozen(eq=False)
class Point:
    """The likelihood at one set of hyperparameters."""

    log_likelihood: float
    filtered: Filtered
    means: Means


def likelihood(
    visits: Visits, spread: Spread, weights: Floats | None = None, *, reml: bool = True
) -> Point:
    """Log marginal likelihood of the readings.

    ℓ = −½·[(n − q)·log 2π + Σ log F + Σ e²/F + Σ β²/τ² + log|Λ + X'V⁻¹X| + Σ log τ²], q the number
    of means without prior (0 for the unrestricted likelihood, which leaves them out of the
    determinant).

    Args:
        visits: padded readings.
        spread: the hyperparameters.
        weights: (N, H), divides the variance of each reading.
        reml: restricted likelihood (means integrated out) or maximum likelihood.

    Returns:
        The value, the forward pass and the group means.

    Raises:
        ValueError: readings that say nothing about the means.

    References:
        Harville 1977; Laird & Ware 1982; prediction error form: Schweppe 1965; from memory.

    >>> from hoistwright.wear.visits import regular_visits
    >>> visits = regular_visits([1.0, 2.0], [[0.1, 0.2], [0.2, 0.5]], 0.05)
    >>> f"{likelihood(visits, Spread(rate=0.1, wander=0.05)).log_likelihood:.4f}"
    '2.4440'
    """
    filtered = forward(visits, spread, weights)
    found = means(visits.tree, filtered, visits.leaf.astype(float), spread, reml=reml)
    mean = found.leaf_mean[:, visits.leaf]
    square = 0.0
    for step in filtered.steps:
        error = step.error[Y] + sum(
            step.error[c] * mean[c - 1] for c in range(1, step.error.shape[0])
        )
        square += float((error * error * step.weight).sum())
    n = int(visits.read.sum()) - (found.flat if reml else 0)
    total = n * math.log(2 * math.pi) + filtered.log_det + square
    total += found.penalty + found.log_det + found.log_prior
    return Point(-total / 2, filtered, found)


def slopes(
    visits: Visits,
    spread: Spread,
    point: Point,
    weights: Floats | None = None,
    *,
    fits: bool = True,
) -> tuple[dict[str, float], Backward]:
    """Derivatives of the log-likelihood by the logarithm of each standard deviation, and by ρ.

    dℓ/dlog s = 2 s²·dℓ/ds², with the start's covariance ρ·s0·σ taken apart.

    Args:
        visits: padded readings.
        spread: the hyperparameters.
        point: the likelihood there.
        weights: those of the point.
        fits: as for `backward`.

    Returns:
        Slopes by name ("rate", "wander", "start", "start_rate", "noise", "level 1" ...), and
        the backward pass.

    References:
        as `backward`; for the levels the identity of Fisher.
    """
    back = backward(visits, spread, point.filtered, point.means, weights, fits=fits)
    by = back.slopes
    shared = spread.start_rate * spread.start * spread.rate * by["together"]
    found = {
        "rate": 2 * spread.rate**2 * by["rate"] + shared,
        "wander": 2 * spread.wander**2 * by["wander"],
        "start": 2 * spread.start**2 * by["start"] + shared,
        "start_rate": spread.start * spread.rate * by["together"],
        "noise": 2 * by["noise"],
    }
    return found | _level_slopes(visits, spread, point.means), back


def _level_slopes(visits: Visits, spread: Spread, found: Means) -> dict[str, float]:
    levels = visits.tree.levels
    square = found.effect**2 + np.diag(found.integrated)
    slopes = {}
    for number, tau in enumerate(spread.levels, start=1):
        at = np.flatnonzero(levels == number)
        slopes[f"level {number}"] = float((square[at] / tau**2 - 1).sum())
    return slopes
