"""Wentzell, Machine Design, examples 20.1 and 20.2: ball bearing life (lb, hours)."""

from __future__ import annotations

from math import pi

import pytest

from hoistwright.physics.bearings import BALL, life_seconds, rating_life, rating_needed

SPEED = 1750 * 2 * pi / 60


def test_example_20_1() -> None:
    """C 5050, P 2400 lb, 1750 rpm: 88.73 h."""
    hours = life_seconds(rating_life(5050, 2400, BALL), SPEED) / 3600
    assert hours == pytest.approx(88.73, abs=0.005)


def test_example_20_2() -> None:
    """200 h are 21 million turns and need 6621.4 lb."""
    turns = 200 * 60 * 1750
    assert turns == 21_000_000
    assert rating_needed(2400, turns, BALL) == pytest.approx(6621.4, abs=0.05)
