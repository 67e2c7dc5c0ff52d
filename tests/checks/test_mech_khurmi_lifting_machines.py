"""Khurmi, Engineering Mechanics, ch. 10 and 11: efficiency of lifting machines.

Examples 10.2, 10.4, 10.9 (law of a machine), 11.6 and 11.7 (differential pulley block), and a
second differential block of radii 150 and 125 mm. Velocity ratio of the block: 2R/(R - r).
"""

from __future__ import annotations

import pytest

from hoistwright.physics.drive import efficiency_found


def test_example_10_2() -> None:
    """VR 30, 125 N lifts 1500 N: 40 %, below one half, so it does not run back."""
    assert efficiency_found(1500, 125, 30) == pytest.approx(0.40)


def test_example_10_4() -> None:
    """VR 10, 100 N lifts 840 N: 84 %; friction 16 N at the effort, 160 N at the load."""
    eta = efficiency_found(840, 100, 10)
    assert eta == pytest.approx(0.84)
    assert 100 * (1 - eta) == pytest.approx(16)
    assert 100 * 10 - 840 == 160


def test_example_10_9_law_of_a_machine() -> None:
    """P = 0.02 W + 8 and VR 100: at 600 N the pull is 20 N and eta 30 %; limit 50 %."""
    assert efficiency_found(600, 0.02 * 600 + 8, 100) == pytest.approx(0.30)
    assert efficiency_found(1e9, 0.02 * 1e9 + 8, 100) == pytest.approx(0.50, rel=1e-6)


@pytest.mark.parametrize(
    ("outer", "inner", "load", "pull", "eta"),
    [
        (125, 115, 1500, 75, 0.80),  # 11.6
        (12, 11, 1800, 100, 0.75),  # 11.7
        (150, 125, 1500, 250, 0.50),  # radii in mm, VR 12
    ],
)
def test_differential_blocks(
    outer: float, inner: float, load: float, pull: float, eta: float
) -> None:
    assert efficiency_found(load, pull, 2 * outer / (outer - inner)) == pytest.approx(eta)
