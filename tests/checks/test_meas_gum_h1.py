"""GUM H.1: calibration of a 50 mm end gauge against a standard of the same nominal length.

Source: JCGM 100:2008 (GUM), annex H.1 with tables H.1 and H.1.3 to H.1.7; inputs as given in
the public documentation of an open uncertainty library (GTC) that works the same example.
Unrounded values were recomputed with four independent libraries.

Tolerances: unrounded values 1e-9 relative (plain arithmetic); printed values to their last
printed digit, because the GUM rounds its intermediate results by hand. Two places where that
shows: nu(d) = 25.6 follows from the unrounded inputs (25.62) and not from those printed beside it
(25.447); and nu_eff is cut to 16, u_c rounded to 32, before U99 = 93 nm.
"""

from __future__ import annotations

import math

import pytest

from hoistwright.metrology import (
    Budget,
    Component,
    arcsine,
    as_one_component,
    budget,
    coverage_factor,
    normal,
    rectangular,
)

NM = 1e-9
LS = 50_000_623 * NM


@pytest.fixture
def difference() -> Budget:
    return budget(
        [
            Component("repeats", 13 * NM / math.sqrt(5), dof=24, kind="A"),
            Component("comparator, random", normal(10 * NM, 2.57), dof=5),
            Component("comparator, systematic", normal(20 * NM, 3), dof=8),
        ]
    )


@pytest.fixture
def length(difference: Budget) -> Budget:
    swing = math.hypot(0.2, float(arcsine(0.5)))
    return budget(
        [
            Component("standard", normal(75 * NM, 3), dof=18),
            as_one_component(difference, "difference"),
            Component("expansion of standard", rectangular(2e-6), sensitivity=0.0),
            Component("temperature of bed", swing, sensitivity=0.0),
            Component("difference of expansion", rectangular(1e-6), -LS * -0.1, dof=50),
            Component("difference of temperature", rectangular(0.05), -LS * 11.5e-6, dof=2),
        ],
        coverage=0.99,
    )


def contributions(b: Budget) -> dict[str, float]:
    return {c.name: float(c.contribution) / NM for c in b.components}


def test_components_as_printed(length: Budget, difference: Budget) -> None:
    found = contributions(length) | contributions(difference)
    printed = {
        "standard": (25, 0.5),
        "difference": (9.7, 0.05),
        "repeats": (5.8, 0.05),
        "comparator, random": (3.9, 0.05),
        "comparator, systematic": (6.7, 0.05),
        "expansion of standard": (0, 1e-12),
        "temperature of bed": (0, 1e-12),
        "difference of expansion": (2.9, 0.05),
        "difference of temperature": (16.6, 0.05),
    }
    for name, (value, last_digit) in printed.items():
        assert found[name] == pytest.approx(value, abs=last_digit), name


def test_components_unrounded(length: Budget, difference: Budget) -> None:
    found = contributions(length) | contributions(difference)
    assert found["difference"] == pytest.approx(
        math.sqrt(13**2 / 5 + (10 / 2.57) ** 2 + (20 / 3) ** 2), rel=1e-9
    )
    assert found["difference of temperature"] == pytest.approx(16.599, abs=5e-4)
    assert found["difference of expansion"] == pytest.approx(2.886_79, abs=5e-6)


def test_degrees_of_freedom_of_the_difference(difference: Budget) -> None:
    assert float(difference.dof) == pytest.approx(25.6, abs=0.05)  # printed
    rounded = budget([Component("x", u, dof=v) for u, v in ((5.8, 24), (3.9, 5), (6.7, 8))])
    assert float(rounded.u) == pytest.approx(9.682, abs=5e-4)
    assert float(rounded.dof) == pytest.approx(25.447, abs=5e-4)


def test_combined(length: Budget) -> None:
    assert float(length.u) / NM == pytest.approx(31.66, abs=0.02)
    assert float(length.u) / NM == pytest.approx(32, abs=0.5)  # printed


def test_combined_with_the_inputs_rounded_as_the_table_prints_them() -> None:
    """25, 5.8, 3.9, 6.7 nm as printed: 31.663879111 by GTC, metrolopy and uncertainties."""
    b = budget(
        [
            Component("standard", 25.0, dof=18),
            Component("repeats", 5.8, dof=24),
            Component("random", 3.9, dof=5),
            Component("systematic", 6.7, dof=8),
            Component("expansion", 50_000_623 * 0.1 * rectangular(1e-6), dof=50),
            Component("temperature", 50_000_623 * 11.5e-6 * rectangular(0.05), dof=2),
        ]
    )
    assert float(b.u) == pytest.approx(31.663_879_111, rel=1e-10)
    assert float(b.dof) == pytest.approx(16.751_856, rel=1e-7)


def test_effective_degrees_of_freedom(length: Budget) -> None:
    assert math.floor(float(length.dof)) == 16  # printed, cut to a whole number
    assert float(length.dof) == pytest.approx(16.75, abs=0.03)


def test_coverage(length: Budget) -> None:
    assert float(coverage_factor(0.99, 16)) == pytest.approx(2.920_78, abs=5e-6)
    assert float(coverage_factor(0.99, 16)) == pytest.approx(2.92, abs=5e-3)  # printed
    assert float(coverage_factor(0.99, 16)) * 31.663_879_111 == pytest.approx(92.483, abs=5e-4)
    assert pytest.approx(93, abs=0.5) == 2.92 * 32  # how the printed 93 comes about
    assert float(length.expanded) / NM == pytest.approx(91.938, abs=0.05)  # nu not cut
    assert float(length.expanded) / NM == pytest.approx(93, abs=1.5)


def test_t_table_g2() -> None:
    """GUM table G.2, t for 95.45 % and 99 %, from memory; printed to two decimals."""
    for dof, t95, t99 in [
        (1, 13.97, 63.66), (2, 4.53, 9.92), (3, 3.31, 5.84), (5, 2.65, 4.03), (10, 2.28, 3.17),
        (20, 2.13, 2.85), (50, 2.05, 2.68), (100, 2.025, 2.626), (math.inf, 2.000, 2.576),
    ]:  # fmt: skip
        assert float(coverage_factor(0.9545, dof)) == pytest.approx(t95, abs=6e-3)
        assert float(coverage_factor(0.99, dof)) == pytest.approx(t99, abs=6e-3)
