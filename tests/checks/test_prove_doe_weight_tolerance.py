"""DOE-STD-1090-96: test weights -5 / +0 % at 125 % (read): 2375 to 2500 kg for 2 t.

The weights chosen must lie in that band with their uncertainty. The band is the one of the
text and is given to the choice; the stock is invented.
"""

from __future__ import annotations

import datetime

import pytest

from hoistwright.metrology import Outcome
from hoistwright.prove.weight_values import Permitted, Weight
from hoistwright.prove.weights import choose_weights

DAY = datetime.date(2026, 11, 25)
DUE = datetime.date(2028, 6, 30)
STOCK = [
    Weight(key=f"w{mass}", mass=mass, u=mass * 2.5e-4, count=count, due_on=DUE)
    for mass, count in ((500, 6), (250, 4), (100, 5), (25, 4))
]


@pytest.mark.parametrize("rated", [500, 750, 1000, 2000])
def test_minus_5_plus_0_percent_at_125_percent(rated: float) -> None:
    high = 1.25 * rated
    low = 0.95 * high
    found = choose_weights(STOCK, Permitted(low=low, high=high, target=high), DAY)
    assert found.outcome is Outcome.FIT
    assert low <= found.load - 2 * found.u
    assert found.load + 2 * found.u <= high
