"""Weight choices worked out beforehand by a general solver and by trying all combinations.

Stock {500: 2, 250: 4, 200: 3, 100: 5, 50: 4, 25: 4, 20: 5, 10: 4}, least excess over the
target, then fewest pieces. 1250: 0 kg, 3 pieces; 625: 0, 3; 1375: 0, 5; 2500: 0, 9; 333: +2, 4;
1: +9, 1; 97: +3, 1. Exact.
"""

from __future__ import annotations

import datetime

import pytest

from hoistwright.prove.weight_values import Permitted, Weight
from hoistwright.prove.weights import choose_weights

DAY = datetime.date(2026, 11, 25)
STOCK = [
    Weight(key=f"w{mass}", mass=mass, u=0.0, count=count, due_on=DAY)
    for mass, count in {500: 2, 250: 4, 200: 3, 100: 5, 50: 4, 25: 4, 20: 5, 10: 4}.items()
]


@pytest.mark.parametrize(
    ("target", "excess", "pieces"),
    [(1250, 0, 3), (625, 0, 3), (1375, 0, 5), (2500, 0, 9), (333, 2, 4), (1, 9, 1), (97, 3, 1)],
)
def test_least_excess_then_fewest_pieces(target: float, excess: float, pieces: int) -> None:
    found = choose_weights(STOCK, Permitted(low=target, high=target + 100, target=target), DAY)
    assert found.load - target == excess
    assert found.handlings == pieces
