"""Forward pass over visits: what is known of wear and rate after each reading.

The state of a hoist is (x, ν): true wear and wear rate. Means are carried as columns: what
the readings give, and how it answers to the unknown mean start and the unknown mean rate.
"""

from __future__ import annotations

import attrs
import numpy as np

from hoistwright.metrology.arrays import Floats
from hoistwright.wear.spread import Spread
from hoistwright.wear.visits import Visits

Y, RATE, START = 0, 1, 2
"""Columns: from the readings, per unit of mean rate, per unit of mean start."""


@attrs.frozen(eq=False)
class Step:
    """What the way back needs of one slot; each (H,), `error` (columns, H)."""

    error: Floats
    weight: Floats
    """1/F; 0 where nothing was read."""
    gain_x: Floats
    gain_v: Floats


@attrs.frozen(eq=False)
class Filtered:
    """After the last slot: means (columns, H) and covariances (H,). `log_det` is Σ log F."""

    x: Floats
    v: Floats
    pxx: Floats
    pxv: Floats
    pvv: Floats
    information: Floats
    """(2, 2, H): of (mean rate, mean start)."""
    score: Floats
    """(2, H): right-hand side for them."""
    log_det: float
    steps: tuple[Step, ...]


class _Pass:
    """The running state; methods change it in place."""

    def __init__(self, visits: Visits, spread: Spread) -> None:
        H = visits.leaf.size
        self.columns = 3 if visits.free_start else 2
        self.visits, self.spread = visits, spread
        self.x, self.v = np.zeros((self.columns, H)), np.zeros((self.columns, H))
        self.v[RATE] = 1.0
        self.pxx, self.pxv = np.zeros(H), np.zeros(H)
        self.pvv = np.full(H, spread.rate**2)
        self.det = np.zeros(H)
        self.information, self.score = np.zeros((2, 2, H)), np.zeros((2, H))
        self.log_det = 0.0

    def renew(self, k: int) -> None:
        """A fresh part: wear starts again, the rate stays the hoist's own."""
        fresh, start_u = self.visits.fresh[k], self.visits.start_u[k]
        if not fresh.any():
            return
        unknown = fresh & np.isnan(start_u)
        self.x[:, fresh] = 0.0
        self.x[Y, fresh] = self.visits.start[k, fresh]
        self.pxx[fresh], self.pxv[fresh] = start_u[fresh] ** 2, 0.0
        if unknown.any():
            self.x[START, unknown] = 1.0
            self.pxx[unknown] = self.spread.start**2
            together = self.spread.start_rate * self.spread.start * self.spread.rate
            self.pxv[unknown] = together
        self.det[fresh] = (self.pxx * self.pvv - self.pxv**2)[fresh]

    def wear_on(self, gap: Floats) -> None:
        """Time passes: x gains ν·gap and wander."""
        wander = gap * self.spread.wander**2
        self.x += gap * self.v
        self.pxx += gap * (2 * self.pxv + gap * self.pvv)
        np.maximum(self.pxx, 0.0, out=self.pxx)
        self.pxx += wander
        self.pxv += gap * self.pvv
        self.det += wander * self.pvv

    def read(self, value: Floats, noise: Floats) -> Step:
        """Take in one reading per hoist; NaN values change nothing.

        The determinant of the covariance is carried along, so that only sums of positive terms
        make the variances: none turns negative, however far apart noise and spread are.
        """
        seen = np.isfinite(value)
        F = np.where(seen, self.pxx + noise, 1.0)
        weight = seen / F
        error = -self.x
        error[Y] += np.where(seen, value, 0.0)
        gain_x, gain_v = self.pxx * weight, self.pxv * weight
        self.x += gain_x * error
        self.v += gain_v * error
        kept = np.where(seen, noise / F, 1.0)
        self.pvv = np.where(seen, (self.det + self.pvv * noise) / F, self.pvv)
        self.pxx, self.pxv, self.det = self.pxx * kept, self.pxv * kept, self.det * kept
        self._count(error, weight)
        self.log_det += float(np.log(F).sum())
        return Step(error, weight, gain_x, gain_v)

    def _count(self, error: Floats, weight: Floats) -> None:
        for a in range(1, self.columns):
            scaled = weight * error[a]
            self.score[a - 1] -= scaled * error[Y]
            for b in range(1, self.columns):
                self.information[a - 1, b - 1] += scaled * error[b]


def forward(
    visits: Visits, spread: Spread, weights: Floats | None = None, *, keep: bool = True
) -> Filtered:
    """State and rate of every hoist after its last slot, and the pieces of the likelihood.

    x' = x + ν·Δt + σ_B·√Δt·ε, y = x + u·e: prediction and update in closed form, one
    slot after the other, all hoists at once.

    Args:
        visits: padded readings.
        spread: the hyperparameters.
        weights: (N, H), divides the variance of each reading (heavy tails); None for 1.
        keep: keep what the way back needs.

    Returns:
        The state, of which means are columns per unit of mean rate and mean start.

    References:
        Kalman 1960; de Jong 1991 (columns for unknown means, "augmented" filter); from memory.
    """
    run = _Pass(visits, spread)
    steps = []
    for k in range(visits.gap.shape[0]):
        run.renew(k)
        run.wear_on(visits.gap[k])
        noise = (spread.noise * visits.u[k]) ** 2
        step = run.read(visits.value[k], noise if weights is None else noise / weights[k])
        if keep:
            steps.append(step)
    return Filtered(
        run.x, run.v, run.pxx, run.pxv, run.pvv, run.information, run.score, run.log_det,
        tuple(steps),
    )  # fmt: skip
