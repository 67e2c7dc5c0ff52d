"""From what was typed, or stands in a data file, to a quantity in SI."""

from __future__ import annotations

import math
from fractions import Fraction

import attrs

from hoistwright.quantity.dimension import Dimension
from hoistwright.quantity.errors import QuantityError
from hoistwright.quantity.figure import split_figure
from hoistwright.quantity.typed import Measure
from hoistwright.quantity.units import Unit, expected_unit, find_unit, units_of

_LARGEST_WHOLE = 10**300


@attrs.frozen
class Quantity:
    """A figure in SI, with the unit it came in (its usual symbol) and the text as it stood."""

    si: float
    unit: str
    dimension: Dimension
    text: str


def parse(
    value: str | float,
    dimension: Dimension,
    *,
    unit: str | None = None,
    decimal: str | None = None,
) -> Quantity:
    """Read a quantity that a person typed, or a bare number from a data file.

    Args:
        value: text such as "2 t", "1 1/4 in", "249,8", or a number in `unit`.
        dimension: what it must measure.
        unit: the unit of a bare figure (a column's heading, a sheet's default).
        decimal: "." or "," where it is known; None takes both where only one reading exists.

    Returns:
        The quantity in SI, the float nearest to the exact conversion. Negative figures are
        allowed: whether one makes sense is the caller's to say.

    Raises:
        QuantityError: anything that is not one finite figure with a fitting unit.

    >>> parse("1/4 in", Dimension.LENGTH).si
    0.00635
    >>> parse("249,8", Dimension.LENGTH, unit="mm").si
    0.2498
    >>> parse("1.250 kg", Dimension.MASS)
    Traceback (most recent call last):
    ...
    hoistwright.quantity.errors.QuantityError: read '1.250 kg', which can be read as 1250 or as
    1.250; expected a mass with its unit, such as 12.5 kg. Leave out the thousands separator (1250),
    or write one more or one fewer decimal, or state the decimal mark
    """
    if decimal not in (None, ".", ","):
        raise ValueError(f"decimal is '.' , ',' or None, not {decimal!r}")
    if isinstance(value, str):
        figure, written = split_figure(value, decimal, _expected(dimension))
    else:
        figure, written = _number(value, dimension), ""
    found = _choose_unit(written, unit, dimension, str(value))
    return Quantity(_to_float(found, figure, value), found.symbol, dimension, str(value))


def _expected(dimension: Dimension) -> str:
    name = f"{'an' if dimension is Dimension.ANGLE else 'a'} {dimension.value}"
    example = {Dimension.COUNT: "12", Dimension.NUMBER: "12.5"}.get(dimension)
    if example:
        return f"{name}, such as {example}"
    return f"{name} with its unit, such as 12.5 {units_of(dimension)[0].symbol}"


def _number(value: float, dimension: Dimension) -> Fraction:
    """The decimal that a file's number shows, exactly: 249.8 and not its binary neighbour."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise QuantityError(repr(value)[:40], _expected(dimension))
    if isinstance(value, Measure):
        raise TypeError(f"a {type(value).__name__} is in SI already: it needs no parsing")
    if isinstance(value, int) and abs(value) <= _LARGEST_WHOLE:
        return Fraction(value)
    if isinstance(value, int):
        raise QuantityError("a whole number of more than 300 digits", _expected(dimension))
    if not math.isfinite(value):
        raise QuantityError(f"{value:g}", _expected(dimension), "A figure must be finite")
    return Fraction(float.__repr__(float(value)))


def _choose_unit(written: str, default: str | None, dimension: Dimension, text: str) -> Unit:
    if written:
        try:
            return find_unit(written, dimension)
        except QuantityError as error:
            read = f"the unit '{written}' in '{text}'"
            raise QuantityError(read, error.expected, error.mend) from None
    if default is None and not dimension.dimensionless:
        raise QuantityError(f"'{text}' without a unit", expected_unit(dimension))
    return find_unit(default or "", dimension)


def _to_float(unit: Unit, figure: Fraction, value: object) -> float:
    if unit.dimension is Dimension.COUNT and figure.denominator != 1:
        raise QuantityError(f"'{value}'", "a whole number")
    try:
        return float(unit.to_si(figure))
    except OverflowError:
        raise QuantityError("a figure beyond all measure", _expected(unit.dimension)) from None
