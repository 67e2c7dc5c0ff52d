"""From SI to what people read: a figure with its unit and no more digits than are known."""

from __future__ import annotations

import math
from fractions import Fraction

from hoistwright.quantity.dimension import Dimension
from hoistwright.quantity.units import Unit, find_unit

NOT_A_FIGURE = "not established"
_MOST_DECIMALS = 12


def convert(value: float, dimension: Dimension, from_unit: str, to_unit: str) -> float:
    """The same quantity in another unit, by exact factors.

    Args:
        value: finite figure in `from_unit`.
        dimension: what it measures.
        from_unit: the unit it is in.
        to_unit: the unit it is wanted in.

    Raises:
        QuantityError: a unit that does not fit the dimension.
        ValueError: a value that is not finite.

    >>> convert(1.25, Dimension.LENGTH, "in", "mm")
    31.75
    """
    si = find_unit(from_unit, dimension).to_si(_exact(value))
    return float(find_unit(to_unit, dimension).from_si(si))


def in_unit(si: float, dimension: Dimension, unit: str) -> float:
    """An SI figure in a unit. Any float goes through; what is not finite stays as it is.

    >>> in_unit(0.2498, Dimension.LENGTH, "mm")
    249.8
    """
    if not math.isfinite(si):
        return si
    return float(find_unit(unit, dimension).from_si(_exact(si)))


def show(
    si: float,
    dimension: Dimension,
    unit: str,
    *,
    uncertainty: float | None = None,
    decimal: str = ".",
) -> str:
    """A figure with its unit, never with an exponent.

    Args:
        si: the value in SI. A value that is not finite is shown as "not established".
        dimension: what it measures.
        unit: the unit to show it in; its usual symbol is printed.
        uncertainty: its uncertainty in SI; the figure ends where the second significant digit
            of the uncertainty stands (GUM 7.2.6). Without one, the unit's usual resolution
            rules, trailing zeros go, and small figures keep two significant digits.
        decimal: the decimal mark to print.

    References:
        JCGM 100:2008 (GUM), 7.2.6, from memory.

    >>> show(0.2498, Dimension.LENGTH, "mm")
    '249.8 mm'
    >>> show(0.2498, Dimension.LENGTH, "mm", uncertainty=0.000_031)
    '249.800 mm'
    >>> show(0.02, Dimension.RATIO, "%", uncertainty=0.0012, decimal=",")
    '2,00 %'
    """
    if not abs(si) <= _LARGEST:
        return NOT_A_FIGURE
    found = find_unit(unit, dimension)
    figure = float(found.from_si(_exact(si)))
    return _with_unit(_figure(figure, found, uncertainty), found, decimal)


def show_interval(
    si: float, expanded: float, dimension: Dimension, unit: str, *, decimal: str = "."
) -> str:
    """A figure and its expanded uncertainty, both with the same decimals.

    >>> show_interval(0.2498, 0.000_12, Dimension.LENGTH, "mm")
    '249.80 ± 0.12 mm'
    """
    if not (abs(si) <= _LARGEST and 0 <= expanded <= _LARGEST):
        return NOT_A_FIGURE
    found = find_unit(unit, dimension)
    figure = _figure(float(found.from_si(_exact(si))), found, expanded)
    spread = _figure(float(_exact(expanded) / found.factor), found, expanded)
    return _with_unit(f"{figure} ± {spread}", found, decimal)


_LARGEST = 1e200  # SI; beyond it no unit can show a figure, and nothing of ours measures so much


def _exact(value: float) -> Fraction:
    if not math.isfinite(value):
        raise ValueError(f"got {value}; a finite figure is needed to convert or show it")
    return Fraction(float.__repr__(float(value)))


def _figure(value: float, unit: Unit, uncertainty: float | None) -> str:
    if uncertainty is None or not math.isfinite(uncertainty) or uncertainty <= 0:
        return _trimmed(value, max(unit.decimals, min(_places(value), _MOST_DECIMALS)))
    places = min(_places(float(_exact(uncertainty) / unit.factor)), _MOST_DECIMALS)
    return _fixed(value, places)


def _places(value: float) -> int:
    """Decimals down to the second significant digit; negative left of the decimal mark."""
    if value == 0:
        return 0
    return 1 - int(f"{value:.1e}".split("e")[1])


def _fixed(value: float, places: int) -> str:
    rounded = round(value, places)
    return f"{rounded + 0.0:.{max(places, 0)}f}" if rounded else f"{0.0:.{max(places, 0)}f}"


def _trimmed(value: float, places: int) -> str:
    text = _fixed(value, places)
    return text.rstrip("0").rstrip(".") if "." in text else text


def _with_unit(figure: str, unit: Unit, decimal: str) -> str:
    figure = figure.replace(".", decimal)
    if unit.symbol == "°" and "±" not in figure:  # the SI brochure: the degree sign stands close
        return f"{figure}°"
    return f"{figure} {unit.symbol}" if unit.symbol else figure
