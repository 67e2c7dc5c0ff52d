"""Pooled repeatability of the AIAG measurement systems example: 10 parts, 3 appraisers, 3 trials.

Source: AIAG, Measurement Systems Analysis (MSA) manual, gauge repeatability and reproducibility
example, data typed from memory. The data are held by their own printed figures first: mean range
0.3417 and the error sum of squares 2.7589 of the printed analysis of variance (60 degrees of
freedom). Tolerance: printed digits.
"""

from __future__ import annotations

import numpy as np
import pytest

from hoistwright.metrology import pooled_scatter, scatter

TRIALS = [
    [
        [0.29, -0.56, 1.34, 0.47, -0.80, 0.02, 0.59, -0.31, 2.26, -1.36],
        [0.41, -0.68, 1.17, 0.50, -0.92, -0.11, 0.75, -0.20, 1.99, -1.25],
        [0.64, -0.58, 1.27, 0.64, -0.84, -0.21, 0.66, -0.17, 2.01, -1.31],
    ],
    [
        [0.08, -0.47, 1.19, 0.01, -0.56, -0.20, 0.47, -0.63, 1.80, -1.68],
        [0.25, -1.22, 0.94, 1.03, -1.20, 0.22, 0.55, 0.08, 2.12, -1.62],
        [0.07, -0.68, 1.34, 0.20, -1.28, 0.06, 0.83, -0.34, 2.19, -1.50],
    ],
    [
        [0.04, -1.38, 0.88, 0.14, -1.46, -0.29, 0.02, -0.46, 1.77, -1.49],
        [-0.11, -1.13, 1.09, 0.20, -1.07, -0.67, 0.01, -0.56, 1.45, -1.77],
        [-0.15, -0.96, 0.67, 0.11, -1.45, -0.49, 0.21, -0.49, 1.87, -2.16],
    ],
]
DATA = np.array(TRIALS)  # appraiser, trial, part


def series() -> list[list[float]]:
    return [list(DATA[a, :, p]) for a in range(3) for p in range(10)]


def test_the_data_by_their_printed_mean_range() -> None:
    assert float(np.ptp(DATA, axis=1).mean()) == pytest.approx(0.341_667, abs=5e-7)


def test_pooled_repeatability_is_the_root_of_the_error_mean_square() -> None:
    pooled = pooled_scatter(series())
    assert pooled.dof == 60
    assert pooled.dof * pooled.deviation**2 == pytest.approx(2.758_93, abs=5e-6)


def test_near_the_range_method() -> None:
    """EV by the range method is 0.2019 (printed 0.20188); both estimate the same scatter."""
    by_range = float(np.ptp(DATA, axis=1).mean()) * 0.5908
    assert by_range == pytest.approx(0.201_88, abs=5e-5)
    assert pooled_scatter(series()).deviation == pytest.approx(by_range, rel=0.1)


def test_a_single_series_by_hand() -> None:
    """0.29, 0.41, 0.64: mean 0.446667, squares sum 0.0632667, s² = 0.0316333."""
    assert scatter([0.29, 0.41, 0.64]).deviation ** 2 == pytest.approx(0.031_633_3, abs=5e-8)
