"""First passage and marginal likelihood against brute force that knows none of the formulas.

Passage: paths in 20 steps, the chance to cross within a step by the Brownian bridge,
exp(−2(L−a)(L−b)/σ²Δt), exact (any text on Brownian motion). Likelihood and posterior: the
covariance matrix of all readings written out, scipy's multivariate normal, least squares.
Tolerances: four standard errors of the simulation; 1e-9 for the matrices.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import multivariate_normal

from hoistwright.metrology.arrays import Floats
from hoistwright.wear.fitting import Options, fit
from hoistwright.wear.likelihood import likelihood
from hoistwright.wear.passage import beyond_by
from hoistwright.wear.spread import Spread
from hoistwright.wear.state import known_state, states
from hoistwright.wear.visits import regular_visits

STATES = [
    # x, v, sx, sv, rho, wander, T
    (0.60, 0.10, 0.010, 0.020, 0.0, 0.05, 3.0),
    (0.80, 0.05, 0.050, 0.030, 0.6, 0.10, 1.0),
    (0.90, 0.15, 0.100, 0.050, -0.7, 0.02, 0.5),
    (0.30, -0.05, 0.020, 0.100, 0.3, 0.15, 4.0),
]


@pytest.mark.parametrize(("x", "v", "sx", "sv", "rho", "wander", "time"), STATES)
def test_passage_against_simulated_paths(
    x: float, v: float, sx: float, sv: float, rho: float, wander: float, time: float
) -> None:
    rng = np.random.default_rng(99)
    paths, steps = 200_000, 20
    cov = [[sx**2, rho * sx * sv], [rho * sx * sv, sv**2]]
    at, rate = rng.multivariate_normal([x, v], cov, paths).T
    dt = time / steps
    missed = np.where(at < 1, 1.0, 0.0)
    for _ in range(steps):
        to = at + rate * dt + rng.normal(0, wander * np.sqrt(dt), paths)
        room = np.maximum(1 - at, 0) * np.maximum(1 - to, 0)
        missed *= -np.expm1(-2 * room / (wander**2 * dt))
        at = to
    share = 1 - missed.mean()
    state = known_state(x, v, sx, sv, correlation=rho, wander=wander)
    error = missed.std() / np.sqrt(paths)
    assert beyond_by(state, 1.0, time) == pytest.approx(share, abs=4 * error)


def covariance(t: Floats, u: Floats, spread: Spread, start: float) -> Floats:
    wander = spread.wander**2 * np.minimum.outer(t, t)
    return np.diag(u**2) + spread.rate**2 * np.outer(t, t) + wander + start**2


def test_likelihood_against_the_written_out_covariance() -> None:
    rng = np.random.default_rng(4)
    spread, start = Spread(rate=0.3, wander=0.2), 0.05
    t = np.cumsum(rng.uniform(0.3, 2, (6, 4)), axis=1)
    u = rng.uniform(0.05, 0.2, (6, 4))
    y = rng.normal(1, 0.4, (6, 4)) * t
    X = [row[:, None] for row in t]
    V = [covariance(t[h], u[h], spread, start) for h in range(6)]
    info = sum(float((x.T @ np.linalg.solve(v, x))[0, 0]) for x, v in zip(X, V, strict=True))
    right = sum(float(x[:, 0] @ np.linalg.solve(v, row)) for x, v, row in zip(X, V, y, strict=True))
    mean = right / info
    dense = sum(multivariate_normal(mean * t[h], V[h]).logpdf(y[h]) for h in range(6))
    found = likelihood(regular_visits(t, y, u, start_u=start), spread, reml=False)
    assert found.log_likelihood == pytest.approx(dense, rel=1e-9)
    assert found.means.effect[0] == pytest.approx(mean, rel=1e-9)
    restricted = likelihood(regular_visits(t, y, u, start_u=start), spread)
    change = 0.5 * np.log(2 * np.pi) - 0.5 * np.log(info)
    assert restricted.log_likelihood == pytest.approx(dense + change, rel=1e-9)


def test_state_against_the_conditional_normal() -> None:
    """Wear and rate after the last reading, given the mean rate: Gaussian conditioning."""
    rng = np.random.default_rng(8)
    H = 1200  # so many that the doubt about the hyperparameters is left out
    t = np.array([0.7, 1.9, 3.0])
    rates = rng.normal(0.5, 0.1, (H, 1))
    y = rates * t + rng.normal(0, 0.1, (H, 3))
    visits = regular_visits(t, y, 0.1)
    found = fit(visits, Options(guarded=False))
    state = states(visits, found)
    s = found.spread
    V = covariance(t, np.full(3, 0.1), s, 0.0)
    cross = np.array([s.rate**2 * t, s.rate**2 * t[-1] * t + s.wander**2 * t])  # ν, x with y
    gain = cross @ np.linalg.inv(V)
    mean = found.mean_rate
    expected = np.array([[mean], [mean * t[-1]]]) + gain @ (y - mean * t).T
    assert state.v == pytest.approx(expected[0], abs=1e-9)
    assert state.x == pytest.approx(expected[1], abs=1e-9)
    prior = np.array(
        [
            [s.rate**2, s.rate**2 * t[-1]],
            [s.rate**2 * t[-1], s.rate**2 * t[-1] ** 2 + s.wander**2 * t[-1]],
        ]
    )
    left = prior - gain @ cross.T
    lean = np.array([1.0, t[-1]]) - gain @ t  # how the state answers to the mean rate
    whole = left + np.outer(lean, lean) * found.point.means.covariance[0, 0]
    assert [state.pvv[0], state.pxv[0], state.pxx[0]] == pytest.approx(
        [whole[0, 0], whole[0, 1], whole[1, 1]], rel=1e-9
    )
