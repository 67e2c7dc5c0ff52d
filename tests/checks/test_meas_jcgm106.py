"""JCGM 106:2012: conformance probability, guard bands and the risks of a resistor maker.

Source: JCGM 106:2012, 7.3.3 examples 1 and 2, 7.4 and table 1, 8.3.2, 8.3.3.2 and the
specific/global risk example of a 1500 ohm resistor; inputs and published results from memory,
recomputed. Tolerances: printed digits; where unrounded values are given they come from a
quadrature checked against the bivariate normal distribution to 1e-14 and are held to 1e-5
(the grid below, 2e5 steps).
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import ndtr, ndtri

from hoistwright.metrology import (
    DecisionRule,
    Outcome,
    Side,
    decide,
    guarded,
    judge,
    maximum_probability,
    simple,
)


def test_7_3_3_zener_diode_with_an_upper_limit() -> None:
    verdict = judge(-5.47, 0.05, -5.40, Side.UPPER)
    assert 1 - verdict.probability == pytest.approx(0.919_24, abs=5e-6)
    assert 1 - verdict.probability == pytest.approx(0.92, abs=5e-3)  # printed
    assert verdict.outcome is Outcome.BORDERLINE


def test_7_3_3_burst_pressure_with_a_lower_limit() -> None:
    verdict = judge(509.7, 8.6, 490, Side.LOWER)
    assert 1 - verdict.probability == pytest.approx(0.989_01, abs=5e-6)
    assert 1 - verdict.probability == pytest.approx(0.99, abs=5e-3)  # printed
    assert verdict.outcome is Outcome.FIT  # 490 + 2 · 8.6 = 507.2


@pytest.mark.parametrize(
    ("p", "z"), [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09)]
)
def test_table_1_distance_for_a_wanted_probability(p: float, z: float) -> None:
    """At a distance of z·u from the limit the probability of conformity is p."""
    exact = float(ndtri(p))
    assert exact == pytest.approx(z, abs=6e-3)
    assert 1 - judge(-exact, 1.0, 0.0).probability == pytest.approx(p, abs=1e-12)
    rule = maximum_probability(1 - p)
    assert judge(-exact - 1e-6, 1.0, 0.0, rule=rule).outcome is Outcome.FIT
    assert judge(-exact + 1e-6, 1.0, 0.0, rule=rule).outcome is Outcome.BORDERLINE


def test_8_3_2_guard_band_of_one_expanded_uncertainty() -> None:
    """g = U = 2u leaves at most 2.3 % probability of being beyond a single limit."""
    verdict = judge(8.0, 1.0, 10.0)
    assert verdict.outcome is Outcome.FIT
    assert verdict.acceptance_limit == 8.0
    assert verdict.probability == pytest.approx(0.022_750, abs=5e-7)


@pytest.mark.parametrize(("risk", "share_of_u"), [(0.05, 0.8224), (0.01, 1.1632), (0.001, 1.5452)])
def test_guard_band_as_a_share_of_the_expanded_uncertainty(risk: float, share_of_u: float) -> None:
    """g = r·U with U = 2u: r = 0.82, 1.16, 1.55 for a risk of 5 %, 1 %, 0.1 % at the edge."""
    verdict = judge(-2 * share_of_u, 1.0, 0.0, rule=guarded(2 * share_of_u))
    assert verdict.outcome is Outcome.FIT
    assert verdict.probability == pytest.approx(risk, rel=1e-3)  # four digits of r, the last ± 1


def risks(rule: DecisionRule) -> tuple[float, float]:
    """Consumer's and producer's risk of a rule, integrated over what may be read.

    Process 1500 ± u0 = 0.12 ohm, measuring u = 0.04 ohm, tolerance ± 0.2 ohm, both limits.
    """
    u0, u, tolerance = 0.12, 0.04, 0.2
    spread = np.hypot(u0, u)
    step = 16 * spread / 200_000
    y = (np.arange(200_000) + 0.5) * step - 8 * spread
    upper = decide(y, u, tolerance, Side.UPPER, rule=rule).codes
    lower = decide(y, u, -tolerance, Side.LOWER, rule=rule).codes
    accepted = np.maximum(upper, lower) == Outcome.FIT
    centre, width = y * (u0 / spread) ** 2, u0 * u / spread
    bad = ndtr((centre - tolerance) / width) + ndtr((-tolerance - centre) / width)
    weight = np.exp(-0.5 * (y / spread) ** 2) / (spread * np.sqrt(2 * np.pi)) * step
    return float((weight * bad)[accepted].sum()), float((weight * (1 - bad))[~accepted].sum())


@pytest.mark.parametrize(
    ("rule", "consumer", "producer"),
    [
        (simple(), 0.018_942_2, 0.037_207_8),
        (guarded(0.5), 0.009_878_3, 0.069_026_5),  # acceptance limits ± 0.18 ohm
        (guarded(2.0), 4.6863e-4, 0.247_669_6),  # g = U = 2u
    ],
)
def test_resistor_risks(rule: DecisionRule, consumer: float, producer: float) -> None:
    found = risks(rule)
    assert found[0] == pytest.approx(consumer, abs=1e-5)
    assert found[1] == pytest.approx(producer, abs=2e-5)


def test_resistor_risks_as_printed() -> None:
    """Published for acceptance limits ± 0.18 ohm: about 1 % and 7 %."""
    consumer, producer = risks(guarded(0.5))
    assert (round(100 * consumer), round(100 * producer)) == (1, 7)
