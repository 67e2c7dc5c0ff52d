"""What is known of each hoist now: true wear and wear rate, jointly normal."""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs
import numpy as np

from hoistwright.metrology.arrays import FloatLike, Floats, as_floats, for_blocks
from hoistwright.wear.filtering import forward
from hoistwright.wear.fitting import Fit
from hoistwright.wear.groups import Path
from hoistwright.wear.means import Means
from hoistwright.wear.spread import Spread
from hoistwright.wear.visits import Visits


@attrs.frozen(eq=False)
class State:
    """Joint normal of true wear x and rate v, arrays of one shape; `wander` is σ_B."""

    x: Floats
    v: Floats
    pxx: Floats
    pxv: Floats
    pvv: Floats
    wander: float

    def one(self, at: int) -> State:
        """A single hoist's state."""
        return State(self.x[at], self.v[at], self.pxx[at], self.pxv[at], self.pvv[at], self.wander)

    def after(self, time: FloatLike) -> tuple[Floats, Floats]:
        """Mean and standard deviation of the true wear some time later (nothing renewed).

        x + v·t, var = p_xx + 2·p_xv·t + p_vv·t² + σ_B²·t
        """
        t = as_floats(time)
        variance = self.pxx + t * (2 * self.pxv + t * self.pvv + self.wander**2)
        return as_floats(self.x + self.v * t), as_floats(np.sqrt(variance))


def known_state(
    x: FloatLike,
    v: FloatLike,
    u_x: FloatLike,
    u_v: FloatLike,
    *,
    correlation: FloatLike = 0.0,
    wander: float,
) -> State:
    """A state from means and standard deviations instead of readings."""
    a, b, sa, sb, rho = np.broadcast_arrays(*(as_floats(p) for p in (x, v, u_x, u_v, correlation)))
    return State(a, b, sa * sa, rho * sa * sb, sb * sb, wander)


def states(visits: Visits, found: Fit, weights: Floats | None = None) -> State:
    """The state of every hoist after its last slot, in closed form.

    Given the hyperparameters: normal, with the doubt about the group means in it. For a small
    fleet the doubt about the hyperparameters is added (`Fit.around`).

    Args:
        visits: padded readings, of the tree that was fitted; any hoists, old or new.
        found: the fit.
        weights: (N, H) of a heavy-tailed fit; its own where `visits` are those fitted.

    Returns:
        State with arrays (H,). Rows are shared among cores; time and memory are linear in H.

    References:
        Kalman 1960; empirical Bayes: Lindley & Smith 1972; from memory.
    """
    H = visits.leaf.size
    sources = [(found.spread, found.point.means), *found.around]
    out = np.empty((5, H))

    def work(block: slice) -> None:
        part = visits.part(block)
        cut = None if weights is None else weights[:, block]
        out[:, block] = _blend([_block(part, *source, cut) for source in sources])

    for_blocks(H, work)
    x, v, pxx, pxv, pvv = out
    wander = math.sqrt(np.mean([spread.wander**2 for spread, _ in sources[1:] or sources]))
    return State(x, v, pxx, pxv, pvv, wander)


def _blend(each: list[Floats]) -> Floats:
    """Mean and covariance over other hyperparameters: the mean of the covariances and the
    covariance of the means, about the state at the best ones.
    """
    best, others = each[0], np.array(each[1:])
    if not len(others):
        return best
    dx, dv = others[:, 0] - best[0], others[:, 1] - best[1]
    middle = others.mean(axis=0)
    spread = np.array([(dx * dx).mean(0), (dx * dv).mean(0), (dv * dv).mean(0)])
    return np.array([best[0], best[1], *(middle[2:] + spread)])


def _block(visits: Visits, spread: Spread, group: Means, weights: Floats | None) -> Floats:
    run = forward(visits, spread, weights, keep=False)
    mean = group.leaf_mean[:, visits.leaf]
    C = group.leaf_covariance[:, :, visits.leaf]
    x, v = run.x[0].copy(), run.v[0].copy()
    P = [run.pxx.copy(), run.pxv.copy(), run.pvv.copy()]
    for i in range(1, run.x.shape[0]):
        x += run.x[i] * mean[i - 1]
        v += run.v[i] * mean[i - 1]
        for j in range(1, run.x.shape[0]):
            both = C[i - 1, j - 1]
            P[0] += both * run.x[i] * run.x[j]
            P[1] += both * run.x[i] * run.v[j]
            P[2] += both * run.v[i] * run.v[j]
    return np.array([x, v, *P])


def group_rate(found: Fit, visits: Visits, path: Path) -> tuple[float, float]:
    """Rate of a hoist that has no reading yet: mean, and standard deviation.

    Var = Var(what is known above) + Σ τ² of the levels not known + σ². For a new design only
    the fleet is known: the answer is wider.

    Args:
        found: the fit.
        visits: those fitted (for the tree).
        path: its group, known or new, of full depth.

    Returns:
        Mean and standard deviation, value per time.

    References:
        Lindley & Smith 1972, from memory.
    """
    row, unknown = visits.tree.row(path)
    means = [_group_rate(spread, group, row, unknown) for spread, group in
             [(found.spread, found.point.means), *found.around]]  # fmt: skip
    middle = means[0][0]
    others = means[1:] or means
    variance = sum(v + (m - middle) ** 2 for m, v in others) / len(others)
    return middle, math.sqrt(variance)


def _group_rate(spread: Spread, group: Means, row: Floats, unknown: int) -> tuple[float, float]:
    nodes = row.size
    variance = float(row @ group.covariance[:nodes, :nodes] @ row) + spread.rate**2
    if unknown:
        variance += sum(tau**2 for tau in spread.levels[-unknown:])
    return float(row @ group.effect[:nodes]), variance


def new_part(rates: Sequence[tuple[float, float]], wander: float, start_u: float = 0.0) -> State:
    """The state of parts just fitted new to hoists with these rates (mean, standard deviation).

    Wear 0 (with the standard uncertainty of the start), the rate the hoist's own.
    """
    table = np.array(rates, float).reshape(-1, 2)
    nothing = np.zeros(table.shape[0])
    return State(nothing, table[:, 0], nothing + start_u**2, nothing, table[:, 1] ** 2, wander)
