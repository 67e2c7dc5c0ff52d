"""A job sheet in XLSX: the worksheet Job holds the header, the worksheet Readings the table."""

from __future__ import annotations

import datetime
import posixpath
from collections.abc import Mapping
from typing import Any
from xml.etree import ElementTree

import attrs

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.sheet.columns import COLUMNS, column_of
from hoistwright.sheet.grid import (
    Line,
    header_cells,
    is_comment,
    is_empty,
    is_heading,
    no_table,
    table_rows,
)
from hoistwright.sheet.raw import Cell, RawSheet, Scalar
from hoistwright.sheet.worksheet_scan import Scan, WorksheetError, letters, scan
from hoistwright.sheet.zip_guard import repacked, unpacked

JOB, READINGS = "Job", "Readings"
_FIRST_LINE = "what"
"""Heads the first column of the worksheet Job; that line holds no entry."""

_REL = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


@attrs.frozen
class Worksheet:
    """The cells of a worksheet, line by line from the first, with what the scan found."""

    name: str
    lines: tuple[Line, ...]
    scan: Scan


def raw_from_xlsx(data: bytes, *, file: str = "") -> RawSheet:
    """The cells of an XLSX sheet. Raises FaultsError for a file that is no job sheet."""
    entries = unpacked(data, file=file)
    sheets = _worksheets(entries, file)
    faults: list[Fault] = []
    header = _header(sheets[JOB], faults)
    rows = _table(sheets[READINGS], file, faults)
    if faults:
        raise FaultsError(faults)
    return RawSheet(file=file, header=header, rows=rows)


def _header(sheet: Worksheet, faults: list[Fault]) -> dict[str, Cell]:
    lines = [
        line[:2] for line in sheet.lines if line and line[0].text.casefold() != _FIRST_LINE
    ]  # the third column tells what may stand there
    for line in lines:
        if not is_comment(line):
            faults += [fault for cell in line[1:] for fault in _typed(cell, sheet.scan)]
    return header_cells(lines, faults)


def _table(sheet: Worksheet, file: str, faults: list[Fault]) -> Any:
    start = next((at for at, line in enumerate(sheet.lines) if is_heading(line)), None)
    if start is None:
        raise no_table(file, sheet.name)
    heading, lines = sheet.lines[start], sheet.lines[start + 1 :]
    faults += _merges(sheet, start + 1, file)
    read = [number for number, cell in enumerate(heading) if column_of(cell.text) in COLUMNS]
    for line in lines:
        if not (is_comment(line) or (is_empty(line) and not sheet.scan.formulas)):
            cells = (line[number] for number in read if number < len(line))
            faults += [fault for cell in cells for fault in _typed(cell, sheet.scan)]
    return table_rows(heading, lines, faults)


def _typed(cell: Cell, found: Scan) -> list[Fault]:
    """A fault for a cell that was calculated instead of typed."""
    at = _position(cell)
    if at in found.formulas:
        mend = "Type what was read: a report must not hang on a formula."
        return [cell.fault("a typed entry", mend, read="a formula")]
    if at in found.errors:
        return [cell.fault("a typed entry", read="an error value")]
    return []


def _position(cell: Cell) -> tuple[int, int]:
    column = 0
    for letter in cell.place.column:
        column = 26 * column + ord(letter) - ord("A") + 1
    return cell.place.row or 0, column


def _merges(sheet: Worksheet, heading: int, file: str) -> list[Fault]:
    return [
        Fault(
            Place(file=file, sheet=sheet.name, row=first[0], column=letters(first[1])),
            f"merged cells down to row {last[0]}, column {letters(last[1])}",
            "one cell for each entry",
            "Undo the merge and fill each cell.",
        )
        for first, last in sheet.scan.merged
        if last[0] >= heading
    ]


def _worksheets(entries: Mapping[str, bytes], file: str) -> dict[str, Worksheet]:
    """The two worksheets by name. Every worksheet is scanned before anything is read."""
    try:
        paths = _paths(entries)
        scans = {name: scan(entries[path]) for name, path in paths.items()}
    except WorksheetError as error:
        raise _broken(file, str(error)) from None
    names = {name.casefold(): name for name in paths}
    missing = [name for name in (JOB, READINGS) if name.casefold() not in names]
    if missing:
        read = "a workbook with the worksheets " + ", ".join(paths)
        raise _broken(file, read, f"the worksheets {JOB} and {READINGS}")
    return {
        name: _worksheet(entries, names[name.casefold()], scans, file) for name in (JOB, READINGS)
    }


def _paths(entries: Mapping[str, bytes]) -> dict[str, str]:
    """Worksheet names with their paths in the archive."""
    try:
        book = ElementTree.fromstring(entries["xl/workbook.xml"])
        links = ElementTree.fromstring(entries["xl/_rels/workbook.xml.rels"])
    except (ElementTree.ParseError, KeyError, ValueError, LookupError):
        raise WorksheetError("a workbook whose XML is broken") from None
    targets = {link.get("Id", ""): link.get("Target", "") for link in links}
    found: dict[str, str] = {}
    for element in book.iter():
        if element.tag.rpartition("}")[2] != "sheet":
            continue
        target = targets.get(element.get(_REL, ""), "")
        path = target.lstrip("/") if target.startswith("/") else posixpath.join("xl", target)
        if path not in entries:
            raise WorksheetError("a workbook without one of its worksheets")
        found[element.get("name", "")] = path
    return found


def _worksheet(
    entries: Mapping[str, bytes], name: str, scans: Mapping[str, Scan], file: str
) -> Worksheet:
    values = _values(entries, name, file)
    lines = tuple(
        tuple(
            Cell(_scalar(value), Place(file=file, sheet=name, row=row, column=letters(column)))
            for column, value in enumerate(line, start=1)
        )
        for row, line in enumerate(values, start=1)
    )
    return Worksheet(name, lines, scans[name])


def _values(entries: Mapping[str, bytes], name: str, file: str) -> list[list[Any]]:
    from python_calamine import CalamineWorkbook

    try:
        book = CalamineWorkbook.from_filelike(repacked(entries))
        return list(book.get_sheet_by_name(name).to_python(skip_empty_area=False))
    except (KeyboardInterrupt, SystemExit, MemoryError):
        raise
    except BaseException:  # the library's own errors; a panic in it is no Exception
        raise _broken(file, f"a worksheet {name} that cannot be read") from None


def _scalar(value: Any) -> Scalar:
    if isinstance(value, datetime.time | datetime.timedelta) or not isinstance(value, Scalar):
        return str(value)
    return value


def _broken(file: str, read: str, expected: str = "") -> FaultsError:
    place = Place(file=file)
    mend = "" if expected else "Open it in a spreadsheet program, save it as XLSX, try again."
    return FaultsError([Fault(place, read, expected or "an XLSX job sheet", mend)])
