"""The figures of a reading: repeats, units, decimal marks, and whether they can be true."""

from __future__ import annotations

import re
from collections.abc import Iterator

import attrs

from hoistwright.examine.points import Point
from hoistwright.faults import Fault
from hoistwright.hoist.as_new import as_new
from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import measure
from hoistwright.quantity import Dimension, Quantity, QuantityError, find_unit, parse
from hoistwright.sheet.magnitude import Usual, doubt
from hoistwright.sheet.raw import Cell, RawRow

MOST_REPEATS = 100
FEWEST_LINKS, MOST_LINKS = 3, 1000
SURE = "!"
"""After a figure: measured again, and it is so, however odd its size."""

_UNITS = {Dimension.ANGLE: "°", Dimension.FORCE: "N", Dimension.NUMBER: ""}


@attrs.frozen
class Typing:
    """How figures are typed on this sheet."""

    units: str
    decimal: str | None
    confirmed: bool


@attrs.frozen
class Figures:
    """The repeats of one reading in SI, and the unit they came in."""

    values: tuple[float, ...]
    unit: str


def usual_unit(dimension: Dimension, units: str) -> str:
    """The unit of a bare figure on a sheet whose lengths are in `units`."""
    return units if dimension is Dimension.LENGTH else _UNITS[dimension]


def figures_of(
    row: RawRow,
    point: Point,
    links: int | None,
    design: Design,
    typing: Typing,
    faults: list[Fault],
) -> Figures:
    """The figures of a row, checked against the point's usual size."""
    unit = _unit(row, point, typing, faults)
    usual = usual_size(design, point, links)
    found: list[Quantity] = []
    pieces = list(_pieces(row.values))
    if len(pieces) > MOST_REPEATS:
        faults.append(pieces[0].fault(f"at most {MOST_REPEATS} repeats of a reading"))
        pieces = []
    for piece in pieces:
        quantity = _figure(piece, point, usual, unit, typing, faults)
        if quantity is not None:
            found.append(quantity)
    symbol = found[0].unit if found else unit
    return Figures(tuple(quantity.si for quantity in found), symbol)


def links_of(row: RawRow, point: Point, faults: list[Fault]) -> int | None:
    """The number of links of a chain gauge length; None where none is stated."""
    cell = row.at("links")
    if not cell.text:
        return None
    if point.links is None:
        faults.append(cell.fault("nothing: this feature is not measured over links"))
        return None
    number = re.fullmatch(r"\d{1,6}", cell.text, re.ASCII)
    if number is None or not FEWEST_LINKS <= int(cell.text) <= MOST_LINKS:
        faults.append(cell.fault(f"a whole number of links, {FEWEST_LINKS} or more"))
        return None
    return int(cell.text)


def _unit(row: RawRow, point: Point, typing: Typing, faults: list[Fault]) -> str:
    cell = row.at("unit")
    usual = usual_unit(point.dimension, typing.units)
    if not cell.text:
        return usual
    try:
        return find_unit(cell.text, point.dimension).symbol
    except QuantityError as error:
        faults.append(cell.fault(error.expected, error.mend, read=error.read))
        return usual


def usual_size(design: Design, point: Point, links: int | None) -> Usual | None:
    """About how large a reading of this point is: as new; where nobody states that, by its limit.

    A limit that is a share, or a growth, says nothing of the size.
    """
    found = as_new(design, design.part(point.part), measure(point.feature), links=links)
    if found is not None:
        return Usual(found.value)
    for ruling in point.rulings:
        if ruling.comparison in ("at least", "at most") and ruling.limit_si is not None:
            return Usual(ruling.limit_si, by_limit=True, smaller=ruling.comparison == "at most")
    return None


def _pieces(cells: tuple[Cell, ...]) -> Iterator[Cell]:
    """One cell per repeat: "12.1; 12.2" in one cell are two."""
    for cell in cells:
        if not isinstance(cell.value, str):
            yield cell
            continue
        for piece in re.split(r"[;\n\r]", cell.value):
            if piece.strip():
                yield Cell(piece.strip(), cell.place)


def _parsed(
    value: str | float, point: Point, usual: Usual | None, unit: str, decimal: str | None
) -> Quantity:
    """Read a figure. "1.409 in" can be 1.409 or 1409: where its usual size is known and only
    one of the two is near it, that one is meant. Raises QuantityError.
    """
    try:
        return parse(value, point.dimension, unit=unit, decimal=decimal)
    except QuantityError:
        if decimal is not None or not usual or not usual.value:
            raise
        near = [q for q in _both_ways(value, point, unit) if doubt(q, usual, unit) is None]
        if len(near) != 1:
            raise
        return near[0]


def _both_ways(value: str | float, point: Point, unit: str) -> Iterator[Quantity]:
    for mark in (".", ","):
        try:
            yield parse(value, point.dimension, unit=unit, decimal=mark)
        except QuantityError:
            continue


def _figure(
    cell: Cell,
    point: Point,
    usual: Usual | None,
    unit: str,
    typing: Typing,
    faults: list[Fault],
) -> Quantity | None:
    value = cell.value
    sure = typing.confirmed
    if isinstance(value, str) and value.endswith(SURE):
        value, sure = value.removesuffix(SURE).strip(), True
    if not isinstance(value, str | int | float):  # a date, which a spreadsheet makes of "1/4"
        mend = "Format the cell as text, then type the reading again."
        faults.append(cell.fault("a figure", mend, read=f"the date {cell.text}"))
        return None
    try:
        found = _parsed(value, point, usual, unit, typing.decimal)
    except QuantityError as error:
        faults.append(cell.fault(error.expected, error.mend, read=error.read))
        return None
    wrong = doubt(found, usual, usual_unit(point.dimension, typing.units))
    if wrong is None or (sure and found.si >= 0):
        return found
    shown = found.text if not found.unit or found.unit in found.text else None
    read = f"'{shown or f'{found.text} {found.unit}'}'"
    faults.append(cell.fault(wrong.expected, wrong.mend, read=read))
    return None
