"""A sheet as a grid of cells (CSV, a worksheet) to header lines and rows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import attrs

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.sheet.bounds import MAX_ROWS, too_many_rows
from hoistwright.sheet.columns import COLUMNS, HEADER, NOTES, column_of, header_key, nearest
from hoistwright.sheet.raw import Cell, RawRow

Line = Sequence[Cell]
"""The cells of one line, from the first column on; empty ones hold ""."""

_NEEDED = ("part", "feature")
_COMMENT = "#"
_SEPARATOR_NOTE = "sep="


def is_heading(line: Line) -> bool:
    """True for the line that heads the table: it names part and feature."""
    names = {column_of(cell.text) for cell in line if cell.text}
    return names.issuperset(_NEEDED)


def is_comment(line: Line) -> bool:
    """True for a line that is not read: a comment, or a spreadsheet's note of its separator."""
    return bool(line) and line[0].text.casefold().startswith((_COMMENT, _SEPARATOR_NOTE))


def is_empty(line: Line) -> bool:
    return not any(cell.text for cell in line)


def header_cells(lines: Iterable[Line], faults: list[Fault]) -> dict[str, Cell]:
    """The header lines: a name in the first cell, its value in the second."""
    found: dict[str, Cell] = {}
    for line in lines:
        if is_empty(line) or is_comment(line):
            continue
        key = header_key(line[0].text)
        value = line[1] if len(line) > 1 else Cell("", line[0].place)
        if key is None:
            faults.append(_unknown_line(line[0]))
        elif key in found:
            faults.append(line[0].fault("each line once", read=f"{line[0].read} a second time"))
        else:
            found[key] = Cell(value.value, attrs.evolve(value.place, key=key))
        faults += _spilled(line[2:])
    return found


def table_rows(heading: Line, lines: Iterable[Line], faults: list[Fault]) -> tuple[RawRow, ...]:
    """The rows under the heading."""
    columns = _columns(heading, faults)
    rows: list[RawRow] = []
    for line in lines:
        if is_empty(line) or is_comment(line):
            continue
        if len(rows) >= MAX_ROWS:
            raise too_many_rows(line[0].place)
        rows.append(_row(columns, line, faults))
    return tuple(rows)


def no_table(file: str, sheet: str = "") -> FaultsError:
    """The error for a sheet without a table."""
    expected = "a table headed: " + ", ".join(COLUMNS)
    place = Place(file=file, sheet=sheet)
    mend = "Begin with a blank sheet: it has the right columns."
    return FaultsError([Fault(place, "no table with the columns part and feature", expected, mend)])


def _unknown_line(cell: Cell) -> Fault:
    labels = [line.label for line in HEADER]
    read = f"an unknown line {cell.read}" if cell.text else "a line without a name"
    return cell.fault("one of: " + ", ".join(labels), nearest(cell.text, labels), read=read)


def _spilled(cells: Iterable[Cell]) -> list[Fault]:
    """Cells after the value: a separator inside a value that is not in quotes."""
    expected = "nothing after the value of a header line"
    mend = "A text that holds the separator stands in quotes."
    return [cell.fault(expected, mend) for cell in cells if cell.text][:1]


def _columns(heading: Line, faults: list[Fault]) -> list[str | None]:
    columns: list[str | None] = []
    for cell in heading:
        name = column_of(cell.text) if cell.text else None
        if cell.text and name is None:
            expected = "a column: " + ", ".join((*COLUMNS, *NOTES))
            read = f"an unknown column {cell.read}"
            faults.append(cell.fault(expected, nearest(cell.text, COLUMNS), read=read))
        elif name is not None and name in columns:
            faults.append(cell.fault("each column once", read=f"{cell.read} a second time"))
        columns.append(name)
    return columns


def _row(columns: Sequence[str | None], line: Line, faults: list[Fault]) -> RawRow:
    cells: dict[str, Cell] = {}
    for number, cell in enumerate(line):
        name = columns[number] if number < len(columns) else None
        if name is None and cell.text:
            faults.append(cell.fault("nothing: this column has no heading"))
        elif name is not None and name in COLUMNS:
            cells[name] = Cell(cell.value, _in_column(cell.place, name))
    reading = cells.pop("reading", None)
    values = (reading,) if reading is not None and reading.text else ()
    first = line[0].place
    return RawRow(place=attrs.evolve(first, column=""), cells=cells, values=values)


def _in_column(place: Place, name: str) -> Place:
    return attrs.evolve(place, column=f"{place.column} ({name})")
