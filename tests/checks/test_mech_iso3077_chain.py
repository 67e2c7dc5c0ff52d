"""ISO 3077 and EN 818-7: hoist chain of type T. Stress by which it is rated, and its table.

Working load limits of type T, kg by nominal mm (standard's table, from memory): 4 500, 5 800,
6.3 1250, 7.1 1600, 8 2000, 9 2500, 10 3200, 11.2 4000, 13 5000, 16 8000. They must come out of
200 N/mm2 rounded down to the preferred numbers.
"""

from __future__ import annotations

import numpy as np
import pytest

from hoistwright.physics.chain import (
    BREAKING_STRESS,
    force_at_stress,
    mass_per_metre,
    mean_stress,
    preferred_mass,
    two_leg_area,
    working_load_mass,
)
from hoistwright.physics.chain_wear import outside_length, wear_elongation

TABLE = {
    **{0.004: 500, 0.005: 800, 0.0063: 1250, 0.0071: 1600, 0.008: 2000},
    **{0.009: 2500, 0.010: 3200, 0.0112: 4000, 0.013: 5000, 0.016: 8000},
}


def test_working_load_series_of_type_t() -> None:
    mass = working_load_mass(list(TABLE))
    unrounded = [513, 801, 1271, 1615, 2050, 2595, 3204, 4019, 5414, 8201]
    assert np.asarray(mass) == pytest.approx(unrounded, abs=0.75)
    assert np.asarray(preferred_mass(mass)) == pytest.approx(list(TABLE.values()), rel=1e-12)


def test_breaking_force_of_grade_t() -> None:
    """EN 818-1: 800 N/mm2 at the least breaking force; kN by size."""
    d = np.asarray([0.004, 0.005, 0.0063, 0.0071, 0.008, 0.010])
    force = force_at_stress(BREAKING_STRESS["T"], d)
    kilonewtons = [20.106, 31.416, 49.876, 63.347, 80.425, 125.664]
    assert np.asarray(force) / 1e3 == pytest.approx(kilonewtons, abs=6e-4)
    assert two_leg_area(0.004) == pytest.approx(25.133e-6, abs=6e-10)


def test_grade_letters_step_as_the_standard_names_them() -> None:
    assert [BREAKING_STRESS[grade] / 1e6 for grade in "MPSTV"] == [400, 500, 630, 800, 1000]


def test_breaking_over_working_is_the_design_factor_of_four() -> None:
    working = mean_stress(force_at_stress(200e6, 0.005), 0.005)
    assert BREAKING_STRESS["T"] / working == pytest.approx(4.0)


def test_gauge_length_of_eleven_links() -> None:
    """p = 3 d: 2 % of the pitch is 0.15 mm of wear on each crown of 5 mm chain."""
    assert outside_length(11, 0.015, 0.005) == pytest.approx(0.175)
    assert wear_elongation(0.00015, 0.015) == pytest.approx(0.02)


def test_mass_per_metre_of_common_sizes() -> None:
    """Tables of several standards, kg/m, from memory: 4x12 0.35, 5x15 0.54, 8x24 1.4,
    10x30 2.2. The inside width is taken as 1.3 d; the weld and rounding stay within 5 %."""
    d = np.asarray([0.004, 0.005, 0.008, 0.010])
    mass = mass_per_metre(d, 3 * d, 1.3 * d)
    assert np.asarray(mass) == pytest.approx([0.35, 0.54, 1.4, 2.2], rel=0.05)
