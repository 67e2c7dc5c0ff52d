"""JCGM 100:2008 (GUM), 5.2.2 example and F.1.2.3: inputs from one standard, from memory.

Ten resistors of 1000 ohm, each calibrated against one standard with u = 100 mohm, in series:
u of the sum is 1 ohm (added), and not 0.32 ohm (root of squares). Weights hung together and
calibrated against one standard are the same sum. Exact.
"""

from __future__ import annotations

import datetime

import pytest

from hoistwright.prove.weight_values import Permitted, Weight
from hoistwright.prove.weights import choose_weights

DAY = datetime.date(2026, 11, 25)
TEN = [Weight(key="w", mass=1000, u=0.1, count=10, due_on=DAY)]
BAND = Permitted(low=9990, high=10010, target=10000)


def test_one_standard_adds() -> None:
    assert choose_weights(TEN, BAND, DAY).u == pytest.approx(1.0)


def test_independent_ones_add_in_squares() -> None:
    found = choose_weights(TEN, BAND, DAY, sharing="independent")
    assert found.u == pytest.approx(0.1 * 10**0.5)
    assert round(found.u, 2) == 0.32  # as the guide prints it
