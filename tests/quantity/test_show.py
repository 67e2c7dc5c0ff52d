"""Figures as people read them. The rounding rule is GUM 7.2.6 (from memory)."""

from __future__ import annotations

import math
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.quantity import (
    Dimension,
    Length,
    QuantityError,
    Ratio,
    convert,
    find_unit,
    in_unit,
    show,
    show_interval,
    si_unit,
    units_of,
)

D = Dimension


@pytest.mark.parametrize(
    ("si", "dimension", "unit", "text"),
    [
        (0.2498, D.LENGTH, "mm", "249.8 mm"),
        (2000.0, D.MASS, "t", "2 t"),
        (0.0015875, D.LENGTH, "in", "0.0625 in"),
        (0.000_004, D.LENGTH, "mm", "0.004 mm"),  # a small limit must not show as nothing
        (-0.0, D.LENGTH, "mm", "0 mm"),
        (math.radians(10), D.ANGLE, "deg", "10°"),
        (293.15, D.TEMPERATURE, "°C", "20 °C"),
        (0.05, D.RATIO, "%", "5 %"),
        (0.05, D.RATIO, "", "0.05"),
        (24.0, D.COUNT, "", "24"),
        (1e9, D.LENGTH, "µm", "1000000000000000 µm"),
        (math.nan, D.LENGTH, "mm", "not established"),
        (math.inf, D.LENGTH, "mm", "not established"),
    ],
)
def test_shows(si: float, dimension: Dimension, unit: str, text: str) -> None:
    assert show(si, dimension, unit) == text


@pytest.mark.parametrize(
    ("value_mm", "u_mm", "text"),
    [
        (10.057_62, 0.027, "10.058 mm"),
        (10.057_62, 0.31, "10.06 mm"),
        (10.057_62, 2.6, "10.1 mm"),
        (1234.6, 26.0, "1235 mm"),
        (1234.6, 260.0, "1230 mm"),
        (10.0, 0.0996, "10.00 mm"),  # 0.0996 is 0.10 to two digits
        (-0.000_04, 0.012, "0.000 mm"),
        (15.0, 0.0, "15 mm"),
        (15.0, math.nan, "15 mm"),
    ],
)
def test_the_uncertainty_rules_the_digits(value_mm: float, u_mm: float, text: str) -> None:
    assert show(value_mm / 1000, D.LENGTH, "mm", uncertainty=u_mm / 1000) == text


def test_an_interval_shows_both_with_the_same_decimals() -> None:
    assert show_interval(0.2498, 0.000_123, D.LENGTH, "mm") == "249.80 ± 0.12 mm"
    assert show_interval(0.2498, 0.0, D.LENGTH, "mm", decimal=",") == "249,8 ± 0 mm"
    assert show_interval(math.nan, 0.1, D.LENGTH, "mm") == "not established"
    assert show_interval(293.15, 1.5, D.TEMPERATURE, "°C") == "20.0 ± 1.5 °C"


@given(st.floats(-1e30, 1e30), st.floats(0, 1e30), st.sampled_from([".", ","]))
def test_never_an_exponent_never_a_negative_nothing(si: float, u: float, decimal: str) -> None:
    for text in (
        show(si, D.LENGTH, "mm", decimal=decimal),
        show(si, D.LENGTH, "in", uncertainty=u, decimal=decimal),
    ):
        figure = text.split()[0]
        assert "e" not in figure
        assert not (figure.startswith("-") and set(figure) <= set("-0.,"))


def test_convert_and_in_unit() -> None:
    assert convert(1.25, D.LENGTH, "in", "mm") == 31.75
    assert convert(100.0, D.TEMPERATURE, "°C", "°F") == 212.0
    assert in_unit(0.2498, D.LENGTH, "mm") == 249.8
    assert math.isnan(in_unit(math.nan, D.LENGTH, "mm"))
    with pytest.raises(QuantityError):
        convert(1.0, D.LENGTH, "mm", "kg")
    with pytest.raises(ValueError, match="finite"):
        convert(math.inf, D.LENGTH, "mm", "m")


def test_every_unit_is_found_by_every_name_it_has() -> None:
    for dimension in D:
        for unit in units_of(dimension):
            for name in (unit.symbol, *unit.aliases):
                assert find_unit(name, dimension) is unit
        assert si_unit(dimension).factor == 1


def test_typed_floats_are_floats_that_know_their_kind() -> None:
    assert Length(0.25) + 1 == 1.25
    assert Length.dimension is D.LENGTH
    assert Ratio(0.02).dimension is D.RATIO


def test_the_package_loads_no_array_library() -> None:
    code = "import sys, hoistwright.quantity; sys.exit(any(m in sys.modules for m in "
    code += "('numpy', 'scipy', 'pint')))"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
