"""Budgets: what must hold of any of them. Values are held against sources in tests/checks."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.metrology import (
    Budget,
    Component,
    Form,
    Gauge,
    Scatter,
    arcsine,
    as_one_component,
    budget,
    coverage_factor,
    derive,
    derived_budget,
    length_budget,
    normal,
    pooled_scatter,
    reading_budget,
    rectangular,
    scatter,
    triangular,
    usual_or_own,
)
from hoistwright.quantity import Dimension

slopes = st.floats(1e-6, 1e3).flatmap(lambda c: st.sampled_from([c, -c, 0.0]))
part = st.tuples(st.floats(1e-9, 1e3), slopes, st.floats(1, 1e3) | st.just(math.inf))
parts = st.lists(part, min_size=1, max_size=6)


def made(rows: list[tuple[float, float, float]], scale: float = 1.0) -> Budget:
    return budget([Component(str(i), u * scale, c, v) for i, (u, c, v) in enumerate(rows)])


@given(parts)
def test_the_combined_lies_between_the_largest_and_the_sum(
    rows: list[tuple[float, float, float]],
) -> None:
    b = made(rows)
    sizes = [float(c.contribution) for c in b.components]
    assert sizes == sorted(sizes, reverse=True)
    assert max(sizes) * (1 - 1e-12) <= float(b.u) <= sum(sizes) * (1 + 1e-12)
    if float(b.u) > 0:
        assert sum(float(b.share(c)) for c in b.components) == pytest.approx(1)
        assert float(b.dof) >= min(v for _, _, v in rows) * (1 - 1e-9)
    assert float(b.k) >= 2.0 - 1e-12
    assert float(b.expanded) == float(b.k) * float(b.u)


@given(parts, st.integers(-60, 60))
def test_the_unit_changes_u_but_not_the_degrees_of_freedom(
    rows: list[tuple[float, float, float]], power: int
) -> None:
    one, other = made(rows), made(rows, 2.0**power)
    assert float(other.u) == float(one.u) * 2.0**power
    assert float(other.dof) == float(one.dof)


@given(st.lists(st.tuples(part, part), min_size=1, max_size=8))
def test_a_row_among_many_is_combined_as_alone(
    rows: list[tuple[tuple[float, float, float], tuple[float, float, float]]],
) -> None:
    columns = np.array(rows)
    many = budget([Component(str(j), *columns[:, j].T) for j in (0, 1)])
    for i, row in enumerate(rows):
        one = made(list(row))
        assert float(one.u) == many.u[i]
        assert float(one.dof) == many.dof[i]


def test_nothing_known_of_a_component_is_nothing_known_of_the_result() -> None:
    b = budget([Component("a", math.nan), Component("b", 1.0, dof=3.0)])
    assert np.isnan(b.u)
    assert np.isnan(budget([Component("a", 1.0, math.nan)]).u)


def test_without_any_uncertainty() -> None:
    b = budget([Component("a", 0.0, dof=2.0)])
    assert (float(b.u), float(b.dof), float(b.k)) == (0.0, math.inf, 2.0)
    assert float(b.share(b.components[0])) == 0.0


def test_refuses() -> None:
    for build in (
        lambda: Component("a", -1.0),
        lambda: Component("a", np.array([1.0, -1.0])),
        lambda: Component("a", 1.0, dof=0.0),
        lambda: Component("a", 1.0, kind="C"),
        lambda: budget([]),
        lambda: rectangular(-1.0),
        lambda: normal(1.0, 0.0),
        lambda: coverage_factor(1.0),
        lambda: scatter([1.0]),
        lambda: pooled_scatter([[1.0], []]),
    ):
        with pytest.raises(ValueError, match="expected"):
            build()


def test_type_b_as_moments_of_their_distributions() -> None:
    """The variance of each distribution, summed numerically over a fine grid."""
    a, n = 0.3, 200_001
    t = (np.arange(n) + 0.5) / n
    flat = a * (2 * t - 1)
    assert rectangular(a) == pytest.approx(flat.std(), rel=1e-4)
    assert arcsine(a) == pytest.approx((a * np.cos(np.pi * t)).std(), rel=1e-4)
    weight = 1 - np.abs(flat) / a
    assert triangular(a) == pytest.approx(math.sqrt((weight * flat**2).sum() / weight.sum()), 1e-4)


CALIPER = Gauge("C1", "caliper 1", "digital caliper", Dimension.LENGTH, 1e-5, 3e-5)


def names(b: Budget) -> set[str]:
    return {c.name for c in b.components}


def test_one_reading_without_a_usual_scatter_says_so() -> None:
    b = reading_budget(CALIPER)
    assert names(b) == {"calibration", "resolution"}
    assert "no repeatability" in b.notes[0]
    assert all(c.source for c in b.components)


def test_the_usual_scatter_serves_a_single_reading() -> None:
    b = length_budget(0.1, gauge=CALIPER, pooled_repeatability=2e-5, pooled_dof=60)
    (repeatability,) = (c for c in b.components if c.name == "repeatability")
    assert (repeatability.u, repeatability.dof, repeatability.kind) == (2e-5, 60, "A")
    assert not b.notes


def test_two_settings_are_two_roundings() -> None:
    one, two = reading_budget(CALIPER), reading_budget(CALIPER, two_settings=True)
    u_one, u_two = (
        float(next(c.contribution for c in b.components if c.name == "resolution"))
        for b in (one, two)
    )
    assert u_two == pytest.approx(math.sqrt(2) * u_one)


def test_temperature_grows_with_length_and_can_be_left_out() -> None:
    def u(length: float) -> float:
        b = length_budget(length, gauge=CALIPER, expansion=11.5e-6, temperature_half_width=5)
        return float(next(c.contribution for c in b.components if c.name == "temperature"))

    assert u(0.2) == pytest.approx(2 * u(0.1))
    assert "temperature" not in names(length_budget(0.2, gauge=CALIPER))
    with pytest.raises(ValueError, match="finite"):
        length_budget(math.nan, gauge=CALIPER)
    with pytest.raises(ValueError, match="0 or more"):
        length_budget(0.1, gauge=CALIPER, expansion=-1e-6)


def test_a_wild_series_is_judged_by_its_own_scatter() -> None:
    """Chance of s ≥ 2.6 s_p with 2 degrees of freedom is exp(−2.6²) < 1 %; of 2 s_p, 1.8 %."""
    usual = Scatter(1.0, math.inf)
    assert usual_or_own(Scatter(2.6, 2.0), usual).deviation == 2.6
    assert usual_or_own(Scatter(2.0, 2.0), usual) is usual
    assert usual_or_own(Scatter(0.1, 2.0), usual) is usual
    assert usual_or_own(Scatter(0.1, 2.0), Scatter(0.0, 9.0)).deviation == 0.1


positive = st.floats(0.01, 10)


@given(st.sampled_from(Form), positive, positive)
def test_sensitivities_are_the_slopes(form: Form, x: float, x0: float) -> None:
    h = 1e-6
    _, c_x, c_x0 = derive(form, x, x0)
    up, down = derive(form, x + h * x, x0)[0], derive(form, x - h * x, x0)[0]
    assert float(c_x) == pytest.approx(float(up - down) / (2 * h * x), rel=1e-4)
    up, down = derive(form, x, x0 + h * x0)[0], derive(form, x, x0 - h * x0)[0]
    assert float(c_x0) == pytest.approx(float(up - down) / (2 * h * x0), rel=1e-4, abs=1e-9)


@pytest.mark.parametrize("x0", [0.0, -1.0, math.nan])
def test_a_ratio_to_nothing_is_not_a_figure(x0: float) -> None:
    for form in (Form.RISE, Form.LOSS, Form.REMAINING):
        assert np.isnan(derive(form, 1.0, x0)[0])


def test_a_derived_budget_keeps_every_source_in_sight() -> None:
    reading, new = budget([Component("scale", 2e-4)]), budget([Component("scale", 1e-4)])
    y, b = derived_budget(Form.DIFFERENCE, 0.168, reading, 0.160, new)
    assert float(y) == pytest.approx(0.008)
    assert float(b.u) == pytest.approx(math.hypot(2e-4, 1e-4))
    assert names(b) == {"scale", "as new: scale"}
    assert "exact" in derived_budget(Form.RISE, 0.168, reading, 0.160)[1].notes[0]
    assert not derived_budget(Form.DIRECT, 0.168, reading)[1].notes
    whole = as_one_component(b, "rise")
    assert float(budget([whole]).u) == float(b.u)
