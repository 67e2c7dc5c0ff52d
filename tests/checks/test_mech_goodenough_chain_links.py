"""Goodenough and Moore, Strength of Chain Links, University of Illinois Bulletin 18 (1907).

Working rules from memory: P = 0.4 d^2 S for open links, 0.5 d^2 S for stud links. Peak over
nominal stress follows as 3.927 and 3.142.
"""

from __future__ import annotations

import pytest

from hoistwright.physics.chain import mean_stress, peak_stress


@pytest.mark.parametrize(("coefficient", "factor"), [(0.4, 3.927), (0.5, 3.142)])
def test_peak_over_nominal(coefficient: float, factor: float) -> None:
    ratio = peak_stress(1e4, 0.008, coefficient) / mean_stress(1e4, 0.008)
    assert ratio == pytest.approx(factor, abs=5e-4)
