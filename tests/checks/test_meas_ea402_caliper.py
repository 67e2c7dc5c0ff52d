"""EA-4/02, supplementary example S10: calibration of a vernier caliper at 150 mm.

Source: EA-4/02 M, S10, from memory, recomputed: error of indication
E = l_ix − l_s + L_s·α·Δt + δl_ix + δl_M, with the standard u = 0.8 µm/√3 (gauge block grade),
Δt within ±2 K and α = 11.5e-6 /K, a vernier step of 0.05 mm, mechanical effects within ±50 µm.
Printed: contributions 0.46, 2.0, 15, 29 µm; u(E) = 33 µm; k = 1.83 for 95 %, U = 0.06 mm.

Tolerances: the book rounds by hand (15 and 29 for 14.43 and 28.87), so printed values to 4 %;
recomputed ones to 1e-9.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hoistwright.metrology import (
    Budget,
    Component,
    Gauge,
    length_budget,
    rectangular,
)
from hoistwright.quantity import Dimension

UM = 1e-6
VERNIER = Gauge(
    key="V1",
    name="vernier caliper",
    kind="vernier caliper",
    measures=Dimension.LENGTH,
    resolution=50 * UM,
    calibration_uncertainty=0.8 * UM,
    coverage_factor=math.sqrt(3),
)


@pytest.fixture
def caliper() -> Budget:
    return length_budget(
        0.15,
        gauge=VERNIER,
        expansion=11.5e-6,
        temperature_half_width=2.0,
        extra=[Component("mechanical effects", rectangular(50 * UM))],
    )


@pytest.mark.parametrize(
    ("name", "printed", "unrounded"),
    [
        ("calibration", 0.46, 0.8 / math.sqrt(3)),
        ("temperature", 2.0, 150e3 * 11.5e-6 * 2 / math.sqrt(3)),
        ("resolution", 15, 25 / math.sqrt(3)),
        ("mechanical effects", 29, 50 / math.sqrt(3)),
    ],
)
def test_contributions(caliper: Budget, name: str, printed: float, unrounded: float) -> None:
    found = next(float(c.contribution) for c in caliper.components if c.name == name) / UM
    assert found == pytest.approx(unrounded, rel=1e-9)
    assert found == pytest.approx(printed, rel=0.04)


def test_largest_first(caliper: Budget) -> None:
    assert [c.name for c in caliper.components] == [
        "mechanical effects", "resolution", "temperature", "calibration",
    ]  # fmt: skip


def test_combined(caliper: Budget) -> None:
    assert float(caliper.u) / UM == pytest.approx(33, rel=0.04)
    assert float(caliper.u) / UM == pytest.approx(
        math.sqrt(0.64 / 3 + 3.45**2 / 3 + 625 / 3 + 2500 / 3), rel=1e-9
    )


def test_expanded_is_on_the_safe_side_of_the_printed_trapezoid(caliper: Budget) -> None:
    """Two rectangles dominate; their sum is a trapezoid, k = 1.83 for 95 %, in closed form."""
    beta = (50 - 25) / (50 + 25)
    k = (1 - math.sqrt(0.05 * (1 - beta**2))) / math.sqrt((1 + beta**2) / 6)
    assert k == pytest.approx(1.83, abs=5e-3)
    exact = k * float(caliper.u)
    assert exact / 1e-3 == pytest.approx(0.06, abs=5e-3)
    assert float(caliper.expanded) / 1e-3 == pytest.approx(0.06, abs=6e-3)
    assert exact < float(caliper.expanded) < 1.12 * exact


def test_trapezoid_by_its_distribution(caliper: Budget) -> None:
    """The same k from the distribution itself, all four sources convolved by a fixed-seed run."""
    rng = np.random.default_rng(10)
    widths = [0.8, 3.45, 25.0, 50.0]
    draws = sum(rng.uniform(-w, w, 400_000) for w in widths)
    half = float(np.quantile(np.abs(draws), 0.95))
    assert half / (float(caliper.u) / UM) == pytest.approx(1.83, rel=0.01)
