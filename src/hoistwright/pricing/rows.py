"""The rows of a price list as lines, each cell checked; what is wrong is told with its place."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from hoistwright.faults import Fault
from hoistwright.pricing.columns import COLUMNS, column_of
from hoistwright.renew.money import MoneyError, amount_of
from hoistwright.renew.prices import PriceLine
from hoistwright.sheet.columns import nearest
from hoistwright.sheet.grid import Line, is_comment, is_empty
from hoistwright.sheet.raw import Cell

Row = dict[str, Cell]
Pair = tuple[str, str]
"""A design, and the key of one of its parts."""

MOST_PIECES = 10**6
MOST_DAYS = 3650
_CURRENCY = re.compile(r"[A-Z]{3}")


@attrs.frozen
class Read:
    """One row: its line, its currency (empty: the row says none), what it fits, and its cells."""

    line: PriceLine
    currency: str
    fits: tuple[Pair, ...]
    row: Row

    def at(self, column: str) -> Cell:
        return at(self.row, column)


def at(row: Row, column: str) -> Cell:
    """The cell of a column; where there is none, an empty one at the row's number."""
    return row.get(column) or Cell("", row["number"].place)


def rows_under(
    heading: Line, lines: Sequence[Line], columns: tuple[str, ...], faults: list[Fault]
) -> Iterator[Row]:
    """The filled rows under a heading, by column. A row without a number is a fault."""
    names = _names(heading, columns, faults)
    for line in lines:
        if is_empty(line) or is_comment(line):
            continue
        row = {n: _in(cell, n) for n, cell in zip(names, line, strict=False) if n}
        if "number" not in row or not row["number"].text:
            place = row.get("number", _in(line[0], "number"))
            faults.append(place.fault("a part number", read="nothing"))
        else:
            yield row


def read_row(row: Row, faults: list[Fault]) -> Read:
    """One row as a line of the list; a cell that cannot be read is left empty and told."""
    price, currency = _price(row, faults)
    line = PriceLine(
        number=row["number"].text,
        name=at(row, "name").text,
        price=price,
        stock=_whole(at(row, "stock"), MOST_PIECES, "pieces", faults) or 0,
        lead_days=_whole(at(row, "lead days"), MOST_DAYS, "days", faults),
        replaced_by=at(row, "replaced by").text,
    )
    return Read(line, currency, tuple(_pairs(at(row, "fits"), faults)), row)


def _names(heading: Line, columns: tuple[str, ...], faults: list[Fault]) -> list[str | None]:
    names: list[str | None] = []
    for cell in heading:
        name = column_of(cell.text, columns) if cell.text else None
        if cell.text and name is None and columns is COLUMNS:
            expected = "a column: " + ", ".join(columns)
            read = f"an unknown column {cell.read}"
            faults.append(cell.fault(expected, nearest(cell.text, columns), read=read))
        if name in names and name is not None:
            faults.append(cell.fault("each column once", read=f"{cell.read} a second time"))
            name = None
        names.append(name)
    return names


def _in(cell: Cell, name: str) -> Cell:
    column = f"{cell.place.column} ({name})" if cell.place.column else name
    return Cell(cell.value, attrs.evolve(cell.place, column=column))


def _price(row: Row, faults: list[Fault]) -> tuple[int | None, str]:
    """Price and currency; the column `currency` and the price cell must not differ."""
    cell, stated = at(row, "price"), at(row, "currency").text.upper()
    if stated and not _CURRENCY.fullmatch(stated):
        faults.append(at(row, "currency").fault("a currency code such as GBP"))
        stated = ""
    if not cell.text:
        return None, stated
    try:
        amount, code = amount_of(_typed(cell))
    except MoneyError as error:
        faults.append(cell.fault(error.expected, error.mend, read=error.read))
        return None, stated
    if code and stated and code != stated:
        faults.append(cell.fault(f"{stated}, as the column currency says"))
    return amount, code or stated


def _typed(cell: Cell) -> str:
    """A price as typed. A number of a spreadsheet has a decimal point and no doubt about it."""
    if isinstance(cell.value, int | float):
        rounded = round(float(cell.value), 6)
        exact = abs(rounded * 100 - round(rounded * 100)) < 1e-6
        return f"{rounded:.2f}" if exact else repr(cell.value)
    return cell.text


def _whole(cell: Cell, most: int, what: str, faults: list[Fault]) -> int | None:
    if not cell.text:
        return None
    found = re.fullmatch(r"\d{1,9}", cell.text, re.ASCII)
    if found is None or int(cell.text) > most:
        faults.append(cell.fault(f"a whole number of {what}, 0 to {most:,}"))
        return None
    return int(cell.text)


def _pairs(cell: Cell, faults: list[Fault]) -> Iterator[Pair]:
    for piece in re.split(r"[;,\s]+", cell.text):
        design, mark, part = piece.partition(":")
        if piece and not (mark and design and part):
            expected = "pairs of design and part such as ardle-2000:pawl"
            faults.append(cell.fault(expected, read=f"'{piece[:40]}'"))
        elif piece:
            yield design, part
