"""The way back over visits: slopes of the likelihood, and how each reading fits the others."""

from __future__ import annotations

import attrs
import numpy as np

from hoistwright.metrology.arrays import Floats
from hoistwright.wear.filtering import Filtered, Step, Y
from hoistwright.wear.means import Means
from hoistwright.wear.spread import Spread
from hoistwright.wear.visits import Visits


@attrs.frozen(eq=False)
class Backward:
    """`slopes`: derivatives of the log-likelihood by variance. Rows (N, H) where asked for:
    `expected` and `expected_sd` the mean and standard deviation of each reading as seen from
    all others (its own error included; NaN where none was read), `noise_square` the mean
    square of the reading's own error, over its stated variance.
    """

    slopes: dict[str, float]
    expected: Floats
    expected_sd: Floats
    noise_square: Floats


class _Adjoint:
    """r (columns, H) and N (H): what later readings say about the state; column 0 is whole."""

    def __init__(self, columns: int, together: Floats, per: Floats) -> None:
        H = together.shape[-1]
        self.rx, self.rv = np.zeros((columns, H)), np.zeros((columns, H))
        self.nxx, self.nxv, self.nvv = np.zeros(H), np.zeros(H), np.zeros(H)
        self.together, self.per = together, per

    def through_reading(self, step: Step, error: Floats) -> tuple[Floats, Floats]:
        """Past one reading, backwards; gives its smoothing error and that error's variance."""
        u = error * step.weight - step.gain_x * self.rx - step.gain_v * self.rv
        kn_x = step.gain_x * self.nxx + step.gain_v * self.nxv
        kn_v = step.gain_x * self.nxv + step.gain_v * self.nvv
        D = step.weight + step.gain_x * kn_x + step.gain_v * kn_v
        self.rx = self.rx + u
        self.nxx = self.nxx - 2 * kn_x + D
        self.nxv = self.nxv - kn_v
        return u, D

    def through_time(self, gap: Floats) -> None:
        """Past a stretch of time, backwards."""
        self.rv += gap * self.rx
        self.nvv += gap * (2 * self.nxv + gap * self.nxx)
        self.nxv += gap * self.nxx

    def through_start(self, fresh: Floats) -> None:
        """Past the fitting of a new part: its wear hangs on nothing before."""
        keep = 1.0 - fresh
        self.rx *= keep
        self.nxx *= keep
        self.nxv *= keep

    def product(self, a: Floats, b: Floats, variance: Floats) -> Floats:
        """E of (smoothed − prior) products: r r' + r_c C r_c' − N, per hoist."""
        found = a[0] * b[0] - variance
        for i in range(1, a.shape[0]):
            for j in range(1, a.shape[0]):
                found += self.together[i - 1, j - 1] * a[i] * b[j]
        return np.asarray(found)


def backward(
    visits: Visits,
    spread: Spread,
    filtered: Filtered,
    found: Means,
    weights: Floats | None = None,
    *,
    fits: bool = True,
) -> Backward:
    """Slopes of the log-likelihood by each variance, and the fit of each reading.

    dℓ/dq = ½ Σ tr[(r r' + r_X C r_X' − N)·dQ/dq], r and N from the recursion of the smoother;
    reading i seen from all others: mean y_i − û_i/D_i, variance 1/D_i.

    Args:
        visits: padded readings.
        spread: the hyperparameters the forward pass had.
        filtered: that pass, with its steps.
        found: the group means.
        weights: those of the forward pass.
        fits: work out how each reading fits the others too; else those rows stay NaN.

    Returns:
        Slopes and residuals.

    References:
        Koopman & Shephard 1992 (score from the smoother); de Jong 1988, de Jong & Penzer 1998
        (leave-one-out residuals); from memory.
    """
    columns = filtered.x.shape[0]
    mean = found.leaf_mean[:, visits.leaf]
    per = found.leaf_covariance[:, :, visits.leaf]
    back = _Adjoint(columns, found.leaf_integrated[:, :, visits.leaf], per)
    slopes = dict.fromkeys(("rate", "wander", "start", "together", "noise"), 0.0)
    rows = np.full((3, *visits.gap.shape), np.nan)
    for k in reversed(range(visits.gap.shape[0])):
        step = filtered.steps[k]
        u, D = back.through_reading(step, _whole(step.error, mean))
        variance = (spread.noise * visits.u[k]) ** 2
        own = variance if weights is None else variance / weights[k]
        seen = step.weight > 0
        slopes["noise"] += float((back.product(u, u, D) * own)[seen].sum()) / 2
        if fits:
            rows[:, k, seen] = _reading(back, u, D, own, variance, visits.value[k])[:, seen]
        slopes["wander"] += float((visits.gap[k] * back.product(back.rx, back.rx, back.nxx)).sum())
        back.through_time(visits.gap[k])
        _start_slopes(visits, back, slopes, k)
        back.through_start(visits.fresh[k].astype(float))
    slopes["rate"] += float(back.product(back.rv, back.rv, back.nvv).sum()) / 2
    slopes["wander"] /= 2
    return Backward(slopes, *rows)


def _whole(error: Floats, mean: Floats) -> Floats:
    """Columns with the whole innovation in place of the readings' own."""
    whole = error.copy()
    whole[Y] += sum(error[c] * mean[c - 1] for c in range(1, error.shape[0]))
    return np.asarray(whole)


def _reading(
    back: _Adjoint, u: Floats, D: Floats, own: Floats, variance: Floats, value: Floats
) -> Floats:
    """The three rows of `fits`. The mean is fitted to the same readings: D becomes less."""
    fitted = D.copy()
    for i in range(1, u.shape[0]):
        for j in range(1, u.shape[0]):
            fitted -= back.per[i - 1, j - 1] * u[i] * u[j]
    fitted = np.maximum(fitted, 1e-300)
    square = own * (own * u[0] ** 2 + 1 - own * fitted) / variance
    return np.array([value - u[0] / fitted, 1 / np.sqrt(fitted), square])


def _start_slopes(visits: Visits, back: _Adjoint, slopes: dict[str, float], k: int) -> None:
    unknown = visits.fresh[k] & np.isnan(visits.start_u[k])
    if unknown.any():
        own = back.product(back.rx, back.rx, back.nxx)
        cross = back.product(back.rx, back.rv, back.nxv)
        slopes["start"] += float(own[unknown].sum()) / 2
        slopes["together"] += float(cross[unknown].sum())
