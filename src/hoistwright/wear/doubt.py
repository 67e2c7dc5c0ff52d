"""How sure the hyperparameters are: what a small fleet must add to its intervals."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from hoistwright.metrology.arrays import Floats

_CLIP = 1.6
_STEP = 1e-4


def curvature(slope: Callable[[Floats], Floats], at: Floats) -> Floats:
    """Second derivatives by central differences of exact slopes, made symmetric.

    Args:
        slope: gradient of the cost.
        at: the minimum, (p,).

    Returns:
        (p, p).

    References:
        any numerical analysis text.

    >>> curvature(lambda x: np.array([4.0, 2.0]) * x, np.zeros(2)).round(6).tolist()
    [[4.0, 0.0], [0.0, 2.0]]
    """
    rows = []
    for k in range(at.size):
        step = np.zeros(at.size)
        step[k] = _STEP
        rows.append((slope(at + step) - slope(at - step)) / (2 * _STEP))
    found = np.array(rows)
    return np.asarray((found + found.T) / 2)


def points_around(at: Floats, second: Floats) -> list[Floats]:
    """Points of equal weight with the mean and covariance of the normal curve at a minimum.

    at ± √p · column of the root of the inverse curvature; in directions that the readings
    hardly settle the step is cut (a factor of five on a standard deviation).

    Args:
        at: the minimum, logarithms of standard deviations, (p,).
        second: curvature there, (p, p).

    Returns:
        2p points.

    References:
        Laplace approximation: Tierney & Kadane 1986; sigma points: Julier & Uhlmann 1997; from
        memory.
    """
    values, directions = np.linalg.eigh(second)
    size = np.sqrt(at.size / np.maximum(values, at.size / _CLIP**2))
    steps = (directions * size).T
    return [at + sign * step for step in steps for sign in (1.0, -1.0)]
