"""Every conversion factor against pint, a general unit library independent of this project.

Tolerance: 1e-14 relative, a few units in the last place of a float, because pint multiplies
chains of floats where our factors are exact fractions. Exact by definition (BIPM SI Brochure,
9th edition 2019; yard and pound agreement of 1959; both from memory): inch, pound, standard
gravity, degree Celsius; these are also held as plain numbers below.
"""

from __future__ import annotations

import math
from typing import Any

import pint
import pytest

from hoistwright.quantity import Dimension, parse, si_unit, units_of

_PINT = {
    "in": "inch", "ft": "foot", "thou": "thou", "lb": "pound", "short ton": "short_ton",
    "long ton": "long_ton", "t": "metric_ton", "lbf": "force_pound", "kgf": "kilogram_force",
    "°": "degree", "%": "percent", "N m": "newton*meter", "lbf ft": "force_pound*foot",
    "lbf in": "force_pound*inch", "°C": "degC", "°F": "degF", "K": "kelvin", "": "dimensionless",
    "d": "day", "h": "hour", "s": "second",
}  # fmt: skip
_CASES = [(dimension, unit.symbol) for dimension in Dimension for unit in units_of(dimension)]


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[Any]:
    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


@pytest.mark.parametrize(("dimension", "symbol"), _CASES)
def test_factor_equals_pint(
    registry: pint.UnitRegistry[Any], dimension: Dimension, symbol: str
) -> None:
    name = _PINT.get(symbol, symbol)
    if dimension is Dimension.TEMPERATURE_DIFFERENCE:
        name = {"°C": "delta_degC", "°F": "delta_degF"}.get(symbol, name)
    si = {"N m": "newton*meter", "rad": "radian"}.get(si_unit(dimension).symbol)
    si = si or _PINT.get(si_unit(dimension).symbol, si_unit(dimension).symbol)
    for figure in (1, 7, 1234):
        expected = registry.Quantity(figure, name).to(si).magnitude
        assert parse(figure, dimension, unit=symbol).si == pytest.approx(expected, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "dimension", "si"),
    [
        ("1 in", Dimension.LENGTH, 0.0254),
        ("1 ft", Dimension.LENGTH, 0.3048),
        ("1 lb", Dimension.MASS, 0.453_592_37),
        ("1 short ton", Dimension.MASS, 907.184_74),
        ("1 lbf", Dimension.FORCE, 4.448_221_615_260_5),
        ("1 kgf", Dimension.FORCE, 9.806_65),
        ("0 °C", Dimension.TEMPERATURE, 273.15),
        ("32 °F", Dimension.TEMPERATURE, 273.15),
        ("180°", Dimension.ANGLE, math.pi),
    ],
)
def test_defined_exactly(text: str, dimension: Dimension, si: float) -> None:
    assert parse(text, dimension).si == si


def test_psi_as_tabled() -> None:
    """1 psi = 6894.757 Pa, as handbooks table it (NIST SP 811, from memory), 7 digits."""
    assert parse("1 psi", Dimension.STRESS).si == pytest.approx(6894.757, rel=1e-7)
