"""The table of units that people may type, and how each turns into SI.

Factors are exact fractions, so that 1/4 in and 6.35 mm become the very same float and a
reading typed at its limit stands exactly at its limit.

References:
    Conversion factors: BIPM, The International System of Units (SI), 9th edition 2019;
    inch and avoirdupois pound by the international yard and pound agreement of 1959
    (0.0254 m and 0.45359237 kg); standard gravity 9.80665 m/s² (3rd CGPM 1901). From
    memory; `tests/checks/test_meas_units.py` holds each against an independent library.
"""

from __future__ import annotations

import functools
import math
import re
from fractions import Fraction
from functools import lru_cache

import attrs

from hoistwright.quantity.dimension import Dimension
from hoistwright.quantity.errors import QuantityError

_INCH = Fraction("0.0254")
_POUND = Fraction("0.45359237")
_GRAVITY = Fraction("9.80665")
_LBF = _POUND * _GRAVITY
_DAY = Fraction(86400)
_YEAR = _DAY * Fraction("365.25")
_PI = Fraction(math.pi)  # the float, exactly: 180 degrees become math.pi and nothing else


@attrs.frozen
class Unit:
    """A unit: `si = (figure + offset) · factor`. `decimals` is its usual resolution in the shop."""

    symbol: str
    dimension: Dimension
    factor: Fraction
    decimals: int
    aliases: tuple[str, ...] = ()
    offset: Fraction = Fraction(0)

    def to_si(self, figure: Fraction) -> Fraction:
        return (figure + self.offset) * self.factor

    def from_si(self, si: Fraction) -> Fraction:
        return si / self.factor - self.offset


def _unit(
    dimension: Dimension, symbol: str, factor: Fraction | int | str, decimals: int, *aliases: str
) -> Unit:
    return Unit(symbol, dimension, Fraction(factor), decimals, aliases)


_D = Dimension
# The first unit of each dimension is the one suggested first in an error.
UNITS: tuple[Unit, ...] = (
    _unit(_D.LENGTH, "mm", "0.001", 2, "millimetre", "millimetres", "millimeter", "millimeters"),
    _unit(_D.LENGTH, "cm", "0.01", 3, "centimetre", "centimetres"),
    _unit(_D.LENGTH, "m", 1, 3, "metre", "metres", "meter", "meters"),
    _unit(_D.LENGTH, "µm", "0.000001", 1, "um", "micron", "microns"),
    _unit(_D.LENGTH, "in", _INCH, 4, '"', "inch", "inches", "''"),
    _unit(_D.LENGTH, "ft", _INCH * 12, 3, "'", "foot", "feet"),
    _unit(_D.LENGTH, "thou", _INCH / 1000, 1, "mil", "mils"),
    _unit(_D.MASS, "kg", 1, 1, "kgs", "kilogram", "kilograms", "kilo", "kilos"),
    _unit(_D.MASS, "g", "0.001", 0, "gram", "grams"),
    _unit(_D.MASS, "t", 1000, 3, "tonne", "tonnes", "metric ton", "metric tons"),
    _unit(_D.MASS, "lb", _POUND, 1, "lbs", "pound", "pounds"),
    _unit(_D.MASS, "short ton", _POUND * 2000, 3, "short tons", "us ton", "us tons"),
    _unit(_D.MASS, "long ton", _POUND * 2240, 3, "long tons", "uk ton", "uk tons"),
    _unit(_D.FORCE, "N", 1, 1, "newton", "newtons"),
    _unit(_D.FORCE, "daN", 10, 1),
    _unit(_D.FORCE, "kN", 1000, 2),
    _unit(_D.FORCE, "lbf", _LBF, 1),
    _unit(_D.FORCE, "kgf", _GRAVITY, 1, "kp"),
    _unit(_D.ANGLE, "°", _PI / 180, 1, "deg", "degree", "degrees", "º"),
    _unit(_D.ANGLE, "rad", 1, 4),
    _unit(_D.RATIO, "%", "0.01", 2, "percent", "per cent", "pct"),
    _unit(_D.RATIO, "", 1, 4),
    _unit(_D.TORQUE, "N m", 1, 2, "Nm"),
    _unit(_D.TORQUE, "lbf ft", _LBF * _INCH * 12, 2, "lb ft", "ft lb", "ft lbs", "ft lbf"),
    _unit(_D.TORQUE, "lbf in", _LBF * _INCH, 1, "lb in", "in lb", "in lbs", "in lbf"),
    _unit(_D.STRESS, "MPa", 1_000_000, 1, "N/mm2"),
    _unit(_D.STRESS, "Pa", 1, 0, "N/m2"),
    _unit(_D.STRESS, "psi", _LBF / _INCH**2, 0, "lbf/in2"),
    _unit(_D.STRESS, "ksi", 1000 * _LBF / _INCH**2, 2),
    _unit(_D.TIME, "s", 1, 1, "sec", "second", "seconds"),
    _unit(_D.TIME, "min", 60, 1, "minute", "minutes"),
    _unit(_D.TIME, "h", 3600, 2, "hr", "hrs", "hour", "hours"),
    _unit(_D.TIME, "d", _DAY, 1, "day", "days"),
    _unit(_D.TIME, "week", _DAY * 7, 1, "weeks"),
    _unit(_D.TIME, "month", _YEAR / 12, 1, "months"),
    _unit(_D.TIME, "year", _YEAR, 2, "years", "yr", "yrs"),
    Unit("°C", _D.TEMPERATURE, Fraction(1), 1, ("C", "deg C", "ºC"), Fraction("273.15")),
    Unit("°F", _D.TEMPERATURE, Fraction(5, 9), 1, ("F", "deg F", "ºF"), Fraction("459.67")),
    _unit(_D.TEMPERATURE, "K", 1, 1),
    _unit(_D.TEMPERATURE_DIFFERENCE, "K", 1, 1),
    _unit(_D.TEMPERATURE_DIFFERENCE, "°C", 1, 1, "C", "deg C", "ºC"),
    _unit(_D.TEMPERATURE_DIFFERENCE, "°F", Fraction(5, 9), 1, "F", "deg F", "ºF"),
    _unit(_D.COUNT, "", 1, 0, "pcs", "pc", "off", "teeth", "links"),
    _unit(_D.NUMBER, "", 1, 4),
)


def _key(text: str) -> str:
    """One spelling for all the ways of writing the same unit: N·m, N m, N-m; N/mm², N/mm^2."""
    text = text.strip().replace("\u03bc", "µ").replace("²", "2").replace("^2", "2")
    text = re.sub(r"\s*/\s*", "/", re.sub(r"[\s·⋅∙*\-]+", " ", text))
    return text.removesuffix(".").strip()


def _tables() -> tuple[dict[tuple[Dimension, str], Unit], dict[tuple[Dimension, str], Unit]]:
    exact: dict[tuple[Dimension, str], Unit] = {}
    for unit in UNITS:
        for name in (unit.symbol, *unit.aliases):
            exact[unit.dimension, _key(name)] = unit
    folded = {(dimension, name.casefold()): unit for (dimension, name), unit in exact.items()}
    return exact, folded


_EXACT, _FOLDED = _tables()


def units_of(dimension: Dimension) -> tuple[Unit, ...]:
    """The units in which a quantity of this dimension may be given."""
    return tuple(unit for unit in UNITS if unit.dimension is dimension)


def si_unit(dimension: Dimension) -> Unit:
    """The unit in which the engines hold this dimension.

    >>> si_unit(Dimension.STRESS).symbol
    'Pa'
    """
    plain = (unit for unit in units_of(dimension) if unit.factor == 1 and unit.offset == 0)
    return next(plain)


@lru_cache(maxsize=512)
@functools.lru_cache(maxsize=2048)
def find_unit(text: str, dimension: Dimension) -> Unit:
    """The unit that `text` names. Capitals are forgiven; another dimension's unit is not.

    Raises:
        QuantityError: unknown unit, a unit of another dimension, or the word "ton" alone.

    >>> find_unit("N/mm²", Dimension.STRESS).symbol
    'MPa'
    """
    key = _key(text)
    found = _EXACT.get((dimension, key)) or _FOLDED.get((dimension, key.casefold()))
    if found is not None:
        return found
    if dimension is Dimension.MASS and key.casefold() in ("ton", "tons"):
        raise QuantityError(
            f"the unit '{text}'",
            "t (1000 kg), short ton (2000 lb) or long ton (2240 lb)",
            "'ton' means different masses in different countries: say which",
        )
    raise QuantityError(f"the unit '{text}'", expected_unit(dimension), _hint(key))


def expected_unit(dimension: Dimension) -> str:
    """The words that tell which units may stand after a figure of this dimension."""
    symbols = ", ".join(unit.symbol for unit in units_of(dimension) if unit.symbol)
    if not symbols:
        return f"a {dimension.value} without a unit"
    optional = " (or no unit)" if dimension.dimensionless else ""
    return f"a unit of {dimension.value}: {symbols}{optional}"


def _hint(key: str) -> str:
    others = [d for (d, name) in _EXACT if name.casefold() == key.casefold()]
    return f"'{key}' is a unit of {others[0].value}" if key and others else ""
