"""OIML R 111-1:2004, table 1, from memory: maximum permissible errors of class M1 weights.

500 kg: 25 g, 1000 kg: 50 g, i.e. 5e-5 of the mass; expanded uncertainty at most a third of it.
So a load of M1 weights of any number is known to 5e-5/3 of itself (k = 2) where uncertainties
add, and a whole stack's error stays below 5e-5 of the load.
"""

from __future__ import annotations

import datetime

import pytest

from hoistwright.prove.weight_values import Permitted, Weight
from hoistwright.prove.weights import choose_weights

DAY = datetime.date(2026, 11, 25)
MPE = {50: 0.0025, 100: 0.005, 200: 0.010, 500: 0.025, 1000: 0.050}


def test_a_stack_keeps_the_relative_uncertainty_of_its_weights() -> None:
    stock = [
        Weight(key=f"m1-{mass}", mass=mass, u=mpe / 3 / 2, count=3, due_on=DAY)
        for mass, mpe in MPE.items()
    ]
    found = choose_weights(stock, Permitted(low=2000, high=2500, target=2250), DAY)
    assert found.load == 2250
    assert found.expanded / found.load == pytest.approx(5e-5 / 3, rel=1e-9)
