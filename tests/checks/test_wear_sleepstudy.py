"""Random start and random rate: the published estimates for the sleep deprivation study.

Data: Belenky et al. 2003 (18 subjects, 10 days). Published: lme4 (Bates et al. 2015, Journal of
Statistical Software 67(1), and its reference manual) for the restricted, the test suite of
MixedModels.jl for the maximum likelihood. Closed form for balanced data: residual mean square,
and covariance of the subjects' own lines less that of their errors; no optimiser.
Tolerances: the digits printed, and 1e-4 against the unrounded closed form (search).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from hoistwright.wear.fitting import Fit, Options, fit
from hoistwright.wear.state import states
from hoistwright.wear.visits import Visits, regular_visits

DATA = Path(__file__).parents[1] / "data" / "sleepstudy.csv"


def visits() -> Visits:
    table = np.genfromtxt(DATA, delimiter=",", skip_header=3)
    return regular_visits(np.arange(10.0), table[:, 1:], 1.0, start_u=np.nan)


def fitted(*, restricted: bool) -> Fit:
    plain = Options(noise="fitted", wander=False, guarded=False, restricted=restricted)
    return fit(visits(), plain)


def test_restricted_likelihood_as_lme4_prints_it() -> None:
    found = fitted(restricted=True)
    assert -2 * found.log_likelihood == pytest.approx(1743.628, abs=5e-4)
    assert found.spread.start == pytest.approx(24.741, abs=1e-3)  # printed
    assert found.spread.rate == pytest.approx(5.922, abs=5e-4)
    assert found.spread.start_rate == pytest.approx(0.066, abs=5e-4)
    assert found.spread.noise == pytest.approx(25.592, abs=5e-4)
    assert found.point.means.effect == pytest.approx([10.467, 251.405], abs=5e-4)
    errors = np.sqrt(np.diag(found.point.means.covariance))
    assert errors == pytest.approx([1.546, 6.825], abs=5e-4)


def test_restricted_likelihood_in_closed_form() -> None:
    found = fitted(restricted=True)
    assert found.spread.noise == pytest.approx(25.5918156267, rel=1e-5)
    assert found.spread.start == pytest.approx(24.74045146, rel=1e-5)
    assert found.spread.rate == pytest.approx(5.92213310, rel=1e-5)
    assert found.spread.start_rate == pytest.approx(0.06555132, rel=1e-4)


def test_maximum_likelihood_as_in_mixedmodels_jl() -> None:
    found = fitted(restricted=False)
    assert -2 * found.log_likelihood == pytest.approx(1751.93934446, abs=1e-6)
    assert found.point.means.effect == pytest.approx([10.467285959596126, 251.40510484848454])
    assert found.spread.start == pytest.approx(23.78066, rel=1e-4)
    assert found.spread.rate == pytest.approx(5.71684, rel=1e-4)
    errors = np.sqrt(np.diag(found.point.means.covariance))
    assert errors == pytest.approx([1.502239, 6.632295], rel=1e-4)


def test_subject_308_shrinks_as_lme4_says() -> None:
    """Published deviations of subject 308: 2.2586 at the start, 9.1990 a day."""
    found = fitted(restricted=True)
    v = visits()
    state = states(v, found)
    rate = float(state.v[0]) - found.mean_rate
    assert rate == pytest.approx(9.1990, abs=5e-4)
    start = float(state.x[0]) - 9 * float(state.v[0]) - float(found.point.means.effect[1])
    assert start == pytest.approx(2.2586, abs=2e-3)
