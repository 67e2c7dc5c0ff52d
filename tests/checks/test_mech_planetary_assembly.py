"""Assembly of evenly spaced planets: (sun + ring) / N must be whole.

Examples as an openly published set of notes on gears carries them (ch. 4; its ring teeth
count below 0), and a university's published gear calculation, 21/43/108 with three planets.
A planet is a layshaft with z2 = z3 that meshes a ring.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from hoistwright.physics.timing import (
    angle_step,
    assembles_evenly,
    equal_layshafts,
    sharing_turns,
)


@pytest.mark.parametrize(
    ("ring", "sun", "planets", "even"),
    [
        (48, 16, 4, True),
        (51, 17, 4, True),
        (54, 18, 4, True),
        (52, 18, 4, False),  # 17.5
        (52, 18, 5, True),
    ],
)
def test_even_spacing(ring: int, sun: int, planets: int, even: bool) -> None:
    planet = (ring - sun) // 2
    assert assembles_evenly(sun, planet, planet, -ring, planets) is even
    train = equal_layshafts(sun, planet, planet, ring, planets, internal=True)
    assert all(sharing_turns(train, j) for j in range(1, planets)) is even


def test_52_18_takes_four_planets_only_in_opposite_pairs() -> None:
    train = equal_layshafts(18, 17, 17, 52, 4, internal=True)
    assert [bool(sharing_turns(train, j)) for j in (1, 2, 3)] == [False, True, False]


def test_21_43_108_with_three_planets() -> None:
    assert (21 + 108) // 3 == 43
    assert assembles_evenly(21, 43, 43, -108, 3)
    assert pytest.approx(6.14286, abs=5e-6) == 1 + 108 / 21


def test_tick_angle() -> None:
    """Planets may stand at every 1 / (sun + ring) of a turn."""
    train = equal_layshafts(18, 17, 17, 52, 2, internal=True)
    assert angle_step(train) == Fraction(1, 18 + 52)
