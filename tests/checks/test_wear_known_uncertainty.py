"""Spread among units when each reading's uncertainty is known: two published meta-analyses.

BCG: 13 trials (Colditz et al. 1994), log risk ratios with their variances. Published random
effects fit: tau2 0.3132 and mean -0.7145 (0.1798) by restricted, tau2 0.2800 by maximum
likelihood (Viechtbauer 2010, Journal of Statistical Software 36(3), and its manual).
Schools: 8 schools (Rubin 1981; Gelman et al., Bayesian Data Analysis, sec. 5.5): pooled mean
7.7 with standard error 4.1, and the likelihood of tau is greatest at 0.
Each unit is a hoist read once at time 1: y = rate + error of known u. Tolerance: printed digits.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from hoistwright.wear.fitting import Options, fit
from hoistwright.wear.likelihood import likelihood
from hoistwright.wear.spread import Spread
from hoistwright.wear.visits import Visits, regular_visits

DATA = Path(__file__).parents[1] / "data" / "bcg_trials.csv"
EFFECTS = [28.0, 8.0, -3.0, 7.0, -1.0, 1.0, 18.0, 12.0]
ERRORS = [15.0, 10.0, 16.0, 11.0, 9.0, 11.0, 10.0, 18.0]


def bcg() -> Visits:
    a, n, c, m = np.genfromtxt(DATA, delimiter=",", skip_header=3).T
    y = np.log((a / n) / (c / m))
    u = np.sqrt(1 / a - 1 / n + 1 / c - 1 / m)
    return regular_visits(np.array([1.0]), y[:, None], u[:, None])


def plain(*, restricted: bool) -> Options:
    return Options(wander=False, guarded=False, restricted=restricted)


def test_bcg_restricted_likelihood() -> None:
    found = fit(bcg(), plain(restricted=True))
    assert found.spread.rate**2 == pytest.approx(0.3132, abs=5e-5)
    assert found.mean_rate == pytest.approx(-0.7145, abs=5e-5)
    assert np.sqrt(found.point.means.covariance[0, 0]) == pytest.approx(0.1798, abs=5e-5)


def test_bcg_maximum_likelihood() -> None:
    found = fit(bcg(), plain(restricted=False))
    assert found.spread.rate**2 == pytest.approx(0.2800, abs=5e-5)


def test_eight_schools_pooled() -> None:
    schools = regular_visits(np.array([1.0]), np.array(EFFECTS)[:, None], np.array(ERRORS)[:, None])
    pooled = likelihood(schools, Spread(rate=1e-9, wander=0.0)).means
    assert pooled.effect[0] == pytest.approx(7.7, abs=0.05)
    assert np.sqrt(pooled.covariance[0, 0]) == pytest.approx(4.1, abs=0.05)
    unrounded = np.average(EFFECTS, weights=1 / np.array(ERRORS) ** 2)
    assert pooled.effect[0] == pytest.approx(unrounded, rel=1e-12)


def test_eight_schools_likelihood_is_greatest_without_spread() -> None:
    schools = regular_visits(np.array([1.0]), np.array(EFFECTS)[:, None], np.array(ERRORS)[:, None])
    at = [
        likelihood(schools, Spread(rate=tau, wander=0.0)).log_likelihood
        for tau in (1e-6, 2.0, 5.0, 10.0, 20.0)
    ]
    assert at == sorted(at, reverse=True)
