"""A job sheet in XLSX: the worksheet Job holds the header, the worksheet Readings the table."""

from __future__ import annotations

import datetime
import posixpath
from collections.abc import Iterator, Mapping
from typing import Any
from xml.etree import ElementTree

import attrs

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.sheet.columns import COLUMNS, column_of
from hoistwright.sheet.folding import folded
from hoistwright.sheet.grid import (
    Line,
    header_cells,
    is_comment,
    is_heading,
    no_table,
    table_rows,
)
from hoistwright.sheet.raw import Cell, RawRow, RawSheet, Scalar
from hoistwright.sheet.spellings import by_spelling, spellings
from hoistwright.sheet.worksheet_scan import Scan, WorksheetError, letters, scan
from hoistwright.sheet.xml_guard import XmlError, guarded
from hoistwright.sheet.zip_guard import repacked, unpacked

JOB, READINGS = "Job", "Readings"
_FIRST_LINE = "what"
"""Heads the first column of the worksheet Job; that line holds no entry. In any language."""

_REL = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


@attrs.frozen
class Worksheet:
    """The cells of a worksheet, line by line from the first, with what the scan found."""

    name: str
    lines: tuple[Line, ...]
    scan: Scan

    def line(self, row: int) -> Line:
        """The cells of a row (from 1); none below the last."""
        return self.lines[row - 1] if row <= len(self.lines) else ()


def raw_from_xlsx(data: bytes, *, file: str = "") -> RawSheet:
    """The cells of an XLSX sheet. Raises FaultsError for a file that is no job sheet."""
    try:
        entries = guarded(unpacked(data, file=file))
    except XmlError as error:
        raise _broken(file, str(error)) from None
    sheets = _worksheets(entries, file)
    faults: list[Fault] = []
    header = _header(sheets[JOB], file, faults)
    rows = _table(sheets[READINGS], file, faults)
    return RawSheet(file=file, header=header, rows=rows, faults=tuple(faults))


def _header(sheet: Worksheet, file: str, faults: list[Fault]) -> dict[str, Cell]:
    faults += _calculated(sheet, 1, {1: "", 2: ""}, file)
    lines = [
        line[:2]
        for line in sheet.lines
        if line and folded(line[0].text) not in spellings(_FIRST_LINE)
    ]  # the third column tells what may stand there
    return header_cells(lines, faults)


def _table(sheet: Worksheet, file: str, faults: list[Fault]) -> tuple[RawRow, ...]:
    start = next((at for at, line in enumerate(sheet.lines) if is_heading(line)), None)
    if start is None:
        raise no_table(file, sheet.name)
    heading = sheet.lines[start]
    names = {number: column_of(cell.text) for number, cell in enumerate(heading, start=1)}
    read = {number: f" ({name})" for number, name in names.items() if name in COLUMNS}
    faults += _merges(sheet, start + 1, file)
    faults += _calculated(sheet, start + 2, read, file)
    return table_rows(heading, sheet.lines[start + 1 :], faults)


def _calculated(
    sheet: Worksheet, first: int, columns: Mapping[int, str], file: str
) -> Iterator[Fault]:
    """A fault for each cell from row `first` on that was calculated instead of typed."""
    for row, column in sorted(sheet.scan.formulas | sheet.scan.errors):
        if row < first or column not in columns or is_comment(sheet.line(row)):
            continue
        where = letters(column) + columns[column]
        formula = (row, column) in sheet.scan.formulas
        yield Fault(
            Place(file=file, sheet=sheet.name, row=row, column=where),
            "a formula" if formula else "an error value",
            "a typed entry",
            "Type what was read: a report must not hang on a formula." if formula else "",
        )


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
        paths = worksheet_paths(entries)
        scans = {name: scan(entries[path]) for name, path in paths.items()}
    except WorksheetError as error:
        raise _broken(file, str(error)) from None
    names = {meant: name for name in paths if (meant := _meant(name))}
    missing = [name for name in (JOB, READINGS) if name not in names]
    if missing:
        read = "a workbook with the worksheets " + ", ".join(paths)
        raise _broken(file, read, f"the worksheets {JOB} and {READINGS}")
    return {name: _worksheet(entries, names[name], scans, file) for name in (JOB, READINGS)}


def _meant(name: str) -> str:
    """Which worksheet a name stands for, in any language; "" for another."""
    return by_spelling((JOB, READINGS)).get(folded(name), "")


def worksheet_paths(entries: Mapping[str, bytes]) -> dict[str, str]:
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
            for column, value in enumerate(_trimmed(line), start=1)
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


def _trimmed(line: list[Any]) -> list[Any]:
    """A line without the empty cells at its end: a far-off cell elsewhere makes many."""
    end = len(line)
    while end and line[end - 1] in ("", None):
        end -= 1
    return line[:end]


def _scalar(value: Any) -> Scalar:
    if isinstance(value, datetime.time | datetime.timedelta) or not isinstance(value, Scalar):
        return str(value)
    return value


def _broken(file: str, read: str, expected: str = "") -> FaultsError:
    place = Place(file=file)
    mend = "" if expected else "Open it in a spreadsheet program, save it as XLSX, try again."
    return FaultsError([Fault(place, read, expected or "an XLSX job sheet", mend)])
