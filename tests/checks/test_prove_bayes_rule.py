"""Bayes' rule: two worked examples of textbooks, from memory, recomputed by hand.

The rare disease: 1 in 1000, test finds 99 %, 5 % false alarms: 0.0194 after one positive test
(Casscells and others, 1978, with 95 % specificity: "about 2 %"). Three urns or doors: after the
host opens one, 1/3 and 2/3. And the mean likelihood of the diagnosis against a normal integral.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad

from hoistwright.prove.diagnose import _mean, posterior


def test_the_rare_disease() -> None:
    weights = {"ill": math.log(0.001 * 0.99), "well": math.log(0.999 * 0.05)}
    assert posterior(weights)["ill"] == pytest.approx(0.00099 / (0.00099 + 0.04995))
    assert posterior(weights)["ill"] == pytest.approx(0.0194, abs=5e-5)


def test_three_doors() -> None:
    """Door 1 chosen, door 3 opened: likelihoods 1/2, 1, 0 (a thousandth of nothing for 0)."""
    weights = {"1": math.log(1 / 3 / 2), "2": math.log(1 / 3), "3": -1000.0}
    found = posterior(weights)
    assert found["1"] == pytest.approx(1 / 3)
    assert found["2"] == pytest.approx(2 / 3)


def test_the_marginal_likelihood_is_the_integral_over_the_size() -> None:
    """A size even between 0 and 1, seen with u = 0.1 at 0.3: by quadrature and by the mean."""

    def density(size: float) -> float:
        return math.exp(-0.5 * ((0.3 - size) / 0.1) ** 2) / 0.1

    exact = quad(density, 0.0, 1.0)[0]
    sizes = (np.arange(4096) + 0.5) / 4096
    logs = {"size": -0.5 * ((0.3 - sizes) / 0.1) ** 2 - math.log(0.1)}
    assert math.exp(_mean(logs)) == pytest.approx(exact, rel=1e-5)
