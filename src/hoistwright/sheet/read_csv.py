"""A job sheet in CSV: header lines first, then the table. Comma, semicolon or tab between."""

from __future__ import annotations

import csv
from collections.abc import Iterator

import attrs

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.sheet.grid import Line, header_cells, is_heading, no_table, table_rows
from hoistwright.sheet.raw import Cell, RawSheet
from hoistwright.sheet.spellings import spellings

SEPARATORS = (",", ";", "\t")

_MOST_LINES = 20_000
_MOST_CELLS = 200  # across; a job sheet has under twenty columns
_LONGEST = 100_000  # characters of one line


def raw_from_csv(text: str, *, file: str = "") -> RawSheet:
    """The cells of a CSV sheet. Raises FaultsError for text that is no job sheet."""
    separator = _separator(text)
    if separator is None:
        raise no_table(file)
    lines = list(csv_lines(text, separator, file))
    heading = next((number for number, line in enumerate(lines) if is_heading(line)), None)
    if heading is None:
        raise no_table(file)
    faults: list[Fault] = []
    header = header_cells(lines[:heading], faults)
    rows = table_rows(lines[heading], lines[heading + 1 :], faults)
    return RawSheet(file=file, header=header, rows=rows, faults=tuple(faults))


def _separator(text: str) -> str | None:
    """The sign that splits the table's heading into columns: nothing is guessed from figures."""
    for line in text.splitlines()[:_MOST_LINES]:
        if not any(word in line[:_LONGEST].casefold() for word in spellings("feature")):
            continue
        for separator in SEPARATORS:
            cells = line[:_LONGEST].split(separator)[:_MOST_CELLS]
            place = Place()
            if is_heading([Cell(cell.strip().strip('"'), place) for cell in cells]):
                return separator
    return None


def csv_lines(text: str, separator: str, file: str) -> Iterator[Line]:
    """The lines with their cells. Each place names the line on which the row begins."""
    reader = csv.reader(text.splitlines(keepends=True), delimiter=separator, strict=True)
    begins = 1
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise FaultsError([_broken(error, begins, file)]) from None
        place = Place(file=file, line=begins)
        if begins > _MOST_LINES or len(cells) > _MOST_CELLS:
            read = f"{len(cells)} cells in a line" if len(cells) > _MOST_CELLS else "no end"
            raise FaultsError([Fault(place, read, "a sheet for one hoist")])
        if cells:
            yield [
                Cell(cell, attrs.evolve(place, column=str(number)))
                for number, cell in enumerate(cells, start=1)
            ]
        begins = reader.line_num + 1


def _broken(error: csv.Error, line: int, file: str) -> Fault:
    mend = 'A quote inside a quoted cell is doubled: ""; 1/4" is typed 1/4 in.'
    return Fault(Place(file=file, line=line), f"broken quotes ({error})", "whole cells", mend)
