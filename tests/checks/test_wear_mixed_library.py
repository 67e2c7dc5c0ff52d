"""The same random-rate model by an independent mixed-model library (statsmodels MixedLM).

Unbalanced simulated fleets with missed visits; rate random, residual fitted, no wander, since
the library has none. Tolerance 1e-3: two searches of flat optima.
"""

from __future__ import annotations

import warnings

import numpy as np
import pytest
from statsmodels.regression.mixed_linear_model import MixedLM

from hoistwright.wear.fitting import Options, fit
from hoistwright.wear.visits import regular_visits


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_rate_and_noise_agree(seed: int) -> None:
    rng = np.random.default_rng(seed)
    H, N = 60, 5
    t = np.cumsum(rng.uniform(0.5, 1.5, (H, N)), axis=1)
    y = rng.normal(0.12, 0.04, (H, 1)) * t + rng.normal(0, 0.03, (H, N))
    y[rng.random((H, N)) < 0.15] = np.nan
    seen = np.isfinite(y)
    hoist = np.broadcast_to(np.arange(H)[:, None], (H, N))[seen]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        theirs = MixedLM(y[seen], t[seen], hoist, exog_re=t[seen]).fit(reml=True)
    ours = fit(regular_visits(t, y, 0.03), Options(noise="fitted", wander=False, guarded=False))
    assert ours.mean_rate == pytest.approx(float(theirs.fe_params[0]), rel=1e-4)
    assert ours.spread.rate**2 == pytest.approx(float(theirs.cov_re[0, 0]), rel=1e-3)
    assert (ours.spread.noise * 0.03) ** 2 == pytest.approx(float(theirs.scale), rel=1e-3)
    assert ours.log_likelihood == pytest.approx(float(theirs.llf), abs=1e-3)
