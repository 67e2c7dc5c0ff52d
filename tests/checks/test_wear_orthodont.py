"""Growth of 27 children: random start and rate with strong correlation, as published.

Data: Potthoff & Roy 1964. Published: Pinheiro & Bates 2000, Mixed-Effects Models in S and
S-PLUS, distance on age for all children, restricted likelihood; from memory, recomputed here.
Tolerances: the digits printed; standard deviations to 1e-4 (search).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from hoistwright.wear.fitting import Options, fit
from hoistwright.wear.visits import regular_visits

DATA = Path(__file__).parents[1] / "data" / "orthodontic_growth.csv"


def test_restricted_fit_of_all_children() -> None:
    table = np.genfromtxt(DATA, delimiter=",", skip_header=3)
    visits = regular_visits(np.array([8.0, 10.0, 12.0, 14.0]), table[:, 1:], 1.0, start_u=np.nan)
    found = fit(visits, Options(noise="fitted", wander=False, guarded=False))
    assert found.log_likelihood == pytest.approx(-221.3183, abs=5e-5)
    assert found.point.means.effect == pytest.approx([0.6601852, 16.7611111], abs=1e-6)
    assert found.spread.start == pytest.approx(2.3270340, rel=1e-4)
    assert found.spread.rate == pytest.approx(0.2264278, rel=1e-4)
    assert found.spread.start_rate == pytest.approx(-0.609, abs=5e-4)
    assert found.spread.noise == pytest.approx(1.3100397, rel=1e-4)
