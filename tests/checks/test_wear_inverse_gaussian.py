"""First passage of Brownian motion with drift: the inverse Gaussian law and its averages.

References: Schrödinger 1915, the law as scipy.stats.invgauss computes it (independent code);
reflection principle for no drift, P = 2 Φ(−d/σ√T); numerical quadrature (scipy.integrate) of
the law over an uncertain drift and an uncertain state. Tolerances: 1e-12 closed form, 1e-8
quadrature in one variable, 1e-6 in two (the engine's own 48 nodes).
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import dblquad, quad
from scipy.stats import invgauss, norm

from hoistwright.wear.passage import beyond_by, known_distance
from hoistwright.wear.state import known_state

CASES = [(1.0, 0.2, 0.1, 4.0), (1.0, 0.2, 0.5, 4.0), (2.0, 1.0, 0.05, 1.9), (0.02, 0.01, 0.004, 1)]


@pytest.mark.parametrize(("d", "drift", "wander", "time"), CASES)
def test_known_drift_is_the_inverse_gaussian(
    d: float, drift: float, wander: float, time: float
) -> None:
    mean, shape = d / drift, (d / wander) ** 2
    law = invgauss.cdf(time, mean / shape, scale=shape)
    assert known_distance(d, drift, 0.0, wander, time) == pytest.approx(law, abs=1e-12)


def test_mean_passage_time_is_distance_over_drift() -> None:
    """Wald's identity: E T = d/ν, from the tail integral of our law."""
    late = quad(lambda t: 1 - float(known_distance(1.0, 0.25, 0.0, 0.2, t)), 0, 60)[0]
    assert late == pytest.approx(4.0, rel=1e-7)


def test_no_drift_is_the_reflection_principle() -> None:
    for d, sigma, time in ((1.0, 1.0, 1.0), (0.5, 0.2, 3.0)):
        law = 2 * norm.cdf(-d / (sigma * np.sqrt(time)))
        assert known_distance(d, 0.0, 0.0, sigma, time) == pytest.approx(law, abs=1e-14)


@pytest.mark.parametrize("drift", [0.2, 0.02, -0.1])
def test_uncertain_drift_is_the_average_of_the_law(drift: float) -> None:
    d, s, sigma, time = 1.0, 0.08, 0.15, 4.0
    average = quad(
        lambda v: norm.pdf(v, drift, s) * float(known_distance(d, v, 0.0, sigma, time)),
        drift - 9 * s,
        drift + 9 * s,
        epsabs=1e-11,
    )[0]
    assert known_distance(d, drift, s, sigma, time) == pytest.approx(average, abs=1e-8)


def test_uncertain_state_and_drift_are_averaged_together() -> None:
    x, v, sx, sv, rho, sigma, time = 0.7, 0.1, 0.06, 0.03, -0.4, 0.08, 2.0
    state = known_state(x, v, sx, sv, correlation=rho, wander=sigma)

    def inside(drift: float, wear: float) -> float:
        lean = v + rho * sv / sx * (wear - x)
        spread = sv * np.sqrt(1 - rho**2)
        reach = float(known_distance(1 - wear, drift, 0.0, sigma, time))
        return float(norm.pdf(wear, x, sx) * norm.pdf(drift, lean, spread) * reach)

    below = dblquad(inside, x - 7 * sx, 1.0, v - 7 * sv, v + 7 * sv, epsabs=1e-8, epsrel=1e-8)[0]
    law = below + norm.sf(1.0, x, sx)
    assert beyond_by(state, 1.0, time) == pytest.approx(law, abs=1e-6)


def test_nothing_overflows_far_out() -> None:
    """exp(2 d m/σ²) alone would be 10^8686 here."""
    assert known_distance(1.0, 1.0, 0.0, 0.01, 0.5) == pytest.approx(0.0, abs=1e-300)
    assert known_distance(1.0, 1.0, 0.3, 0.01, 2.0) == pytest.approx(
        norm.cdf((1 - 0.5) / 0.3), abs=1e-3
    )
