"""Shigley, Mechanical Engineering Design, sec. 8-8 (from memory): with friction 0.15 in thread
and under the head and a face of mean diameter 1.25 d, K is about 0.20 whatever the size.
Our K comes from the friction formula of VDI 2230 / ISO 16047; 7 % covers all coarse sizes.
"""

from __future__ import annotations

import numpy as np
import pytest

from hoistwright.physics.bolts import nut_factor

COARSE = {5: 0.8, 6: 1.0, 8: 1.25, 10: 1.5, 12: 1.75, 16: 2.0, 20: 2.5}


def test_k_is_a_fifth_for_all_coarse_threads() -> None:
    d, pitch = np.asarray(list(COARSE), dtype=float), np.asarray(list(COARSE.values()))
    K = nut_factor(d, pitch, 0.15, 0.15, 1.25 * d)
    assert np.asarray(K) == pytest.approx(np.full(d.size, 0.20), rel=0.07)
