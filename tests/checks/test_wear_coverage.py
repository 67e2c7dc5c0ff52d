"""Stated 90 % intervals on fresh simulated fleets hold the truth in 88 to 92 % of cases.

The truth is drawn from the model itself with other hyperparameters for every fleet, fitted
afresh; the reason for the bounds is the definition of a 90 % interval. Samples are so many
that chance moves the share by less than 0.5 % (one standard error).
"""

from __future__ import annotations

import numpy as np

from hoistwright.metrology.arrays import Floats
from hoistwright.wear.fitting import Fit, fit
from hoistwright.wear.passage import beyond_by
from hoistwright.wear.state import State, states
from hoistwright.wear.visits import regular_visits

Z90 = 1.6448536269514722


class Fleet:
    """Hoists of some designs and duties with true wear one unit of time after the last visit."""

    def __init__(self, rng: np.random.Generator, hoists: int, visits: int) -> None:
        self.sigma, self.wander, u = rng.uniform([0.02, 0.02, 0.01], [0.05, 0.06, 0.03])
        designs = rng.normal(0, 0.02, 4)[rng.integers(0, 4, hoists)]
        self.groups = [(f"design {d:.6f}",) for d in designs]
        self.rate = rng.normal(0.12 + designs, self.sigma)
        gap = rng.uniform(0.5, 1.5, (hoists, visits))
        noise = rng.normal(0, 1, (hoists, visits))
        self.wear = np.cumsum(self.rate[:, None] * gap + self.wander * np.sqrt(gap) * noise, 1)
        read = self.wear + rng.normal(0, u, self.wear.shape)
        read[rng.random(read.shape) < 0.1] = np.nan
        self.visits = regular_visits(np.cumsum(gap, 1), read, u, groups=self.groups)
        steps = self.rate[:, None] / 50 + self.wander / np.sqrt(50) * rng.normal(0, 1, (hoists, 50))
        self.after = self.wear[:, -1:] + np.cumsum(steps, 1)

    def forecast(self) -> tuple[Fit, State]:
        found = fit(self.visits)
        return found, states(self.visits, found)


def covered(truth: Floats, mean: Floats, sd: Floats) -> Floats:
    return np.asarray(np.abs(truth - mean) <= Z90 * sd, float)


def test_coverage_of_wear_rate_and_future_wear() -> None:
    rng = np.random.default_rng(2026)
    hits: list[list[Floats]] = [[], [], []]
    chances, passed = [], []
    for _ in range(40):
        fleet = Fleet(rng, 150, 4)
        _, state = fleet.forecast()
        mean, sd = state.after(1.0)
        hits[0].append(covered(fleet.after[:, -1], mean, sd))
        hits[1].append(covered(fleet.rate, state.v, np.sqrt(state.pvv)))
        hits[2].append(covered(fleet.wear[:, -1], state.x, np.sqrt(state.pxx)))
        chances.append(beyond_by(state, 0.6, 1.0))
        passed.append(np.maximum(fleet.after.max(1), fleet.wear[:, -1]) >= 0.6)
    for what in hits:
        assert 0.88 <= np.concatenate(what).mean() <= 0.92
    stated, true = np.concatenate(chances), np.concatenate(passed)
    # the chances add up to what happens; paths in 50 steps miss a few short excursions
    assert abs(stated.mean() - true.mean()) < 0.01
    middle = (stated > 0.2) & (stated < 0.8)
    assert abs(stated[middle].mean() - true[middle].mean()) < 0.04


def test_coverage_of_small_fleets_with_few_visits() -> None:
    """Six hoists, three visits: the doubt about the hyperparameters is part of the interval."""
    rng = np.random.default_rng(7)
    hits = []
    for _ in range(300):
        fleet = Fleet(rng, 6, 3)
        _, state = fleet.forecast()
        mean, sd = state.after(1.0)
        hits.append(covered(fleet.after[:, -1], mean, sd))
    assert 0.87 <= np.concatenate(hits).mean() <= 0.94
