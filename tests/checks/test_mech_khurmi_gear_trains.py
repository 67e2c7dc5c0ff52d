"""Khurmi and Gupta, Theory of Machines, example 13.1: compound train of three pairs."""

from __future__ import annotations

import pytest

from hoistwright.physics.gears import train_ratio


def test_example_13_1() -> None:
    """975 rpm through 20/50, 25/75, 26/65: 52 rpm."""
    ratio = train_ratio(20, 50, 25, 75) * 65 / 26
    assert 975 / ratio == pytest.approx(52.0, rel=1e-12)
