"""Crane chain pocket wheels: the pitch diameter rule of Machinery's Handbook (rule from
memory), proved by geometry.

Independent route: the joints of the chain lie on one circle, joined by chords p + d (lying
link) and p - d (standing link), 2 N of them round. The diameter at which these chords close
is found by a general root solver; the rule must give the same.
"""

from __future__ import annotations

from math import asin, pi

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from hoistwright.physics.pocket_wheel import (
    arm_range,
    chain_per_turn,
    effective_diameter,
    pitch_diameter,
)

CHAINS = [(0.015, 0.005), (0.018, 0.006), (0.024, 0.008), (0.030, 0.010)]


@pytest.mark.parametrize(("p", "d"), CHAINS)
@pytest.mark.parametrize("pockets", [3, 4, 5, 6, 8, 10])
def test_rule_closes_the_polygon_of_alternating_chords(pockets: int, p: float, d: float) -> None:
    def gap(D: float) -> float:
        return asin((p + d) / D) + asin((p - d) / D) - pi / pockets

    D = brentq(gap, (p + d) * (1 + 1e-12), 100 * p, xtol=1e-15)
    assert pitch_diameter(pockets, p, d) == pytest.approx(D, rel=1e-11)


def test_values_worked_by_the_rule_in_millimetres() -> None:
    """Typed table: N against chains 5x15, 6x18, 8x24, 10x30."""
    table = {
        3: (30.5505, 36.6606, 48.8808, 61.1010),
        4: (39.5687, 47.4825, 63.3100, 79.1375),
        5: (48.8249, 58.5899, 78.1198, 97.6498),
        6: (58.1863, 69.8235, 93.0980, 116.3725),
        8: (77.0563, 92.4675, 123.2901, 154.1126),
        10: (96.0203, 115.2244, 153.6325, 192.0407),
    }
    p, d = np.asarray(CHAINS).T
    for pockets, row in table.items():
        assert np.asarray(pitch_diameter(pockets, p, d) * 1e3) == pytest.approx(row, abs=6e-5)


def test_chain_moved_in_a_turn_is_the_arm_summed_over_the_turn() -> None:
    """The hanging joint swings on the pitch circle from half a lying chord on one side to
    half a standing chord on the other; the arm, summed over the angle, is the chain moved."""
    N, p, d = 5, 0.015, 0.005
    R = float(pitch_diameter(N, p, d)) / 2
    alpha, beta = asin((p + d) / 2 / R), asin((p - d) / 2 / R)
    moved, _ = quad(lambda psi: R * np.cos(psi), -alpha, beta)
    assert 2 * N * moved == pytest.approx(float(chain_per_turn(N, p)), rel=1e-12)
    least, greatest = arm_range(N, p, d)
    assert least == pytest.approx(R * np.cos(alpha), rel=1e-12)
    assert greatest == pytest.approx(R, rel=1e-12)
    assert least < effective_diameter(N, p) / 2 < greatest
