"""The cells of a price list: of a CSV text, or of every worksheet of a workbook."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.pricing.columns import column_of
from hoistwright.sheet.grid import Line
from hoistwright.sheet.raw import Cell
from hoistwright.sheet.read_csv import SEPARATORS, csv_lines
from hoistwright.sheet.read_xlsx import worksheet_paths
from hoistwright.sheet.text import decoded
from hoistwright.sheet.worksheet_scan import WorksheetError, letters, scan
from hoistwright.sheet.xml_guard import XmlError, guarded
from hoistwright.sheet.zip_guard import repacked, unpacked

MOST_LINES = 20_000
"""Of a CSV list. A worksheet may have 6,000 rows."""
MOST_BYTES = 5_000_000

Grids = tuple[tuple[Line, ...], ...]
"""Tables of cells: one for a CSV list, one for each worksheet."""


def grids_of(data: bytes, name: str) -> Grids:
    """The tables of a list by the ending of its name. Raises FaultsError."""
    if len(data) > MOST_BYTES:
        raise _fault(name, f"{len(data):,} bytes", f"at most {MOST_BYTES:,}")
    ending = name.casefold().rpartition(".")[2]
    if ending in ("csv", "tsv", "txt"):
        return (_of_csv(decoded(data, file=name), name),)
    if ending == "xlsx":
        return _of_workbook(data, name)
    raise _fault(name, f"the ending '.{ending}'", "a price list ending in .csv or .xlsx")


def _of_csv(text: str, name: str) -> tuple[Line, ...]:
    if text.count("\n") > MOST_LINES - 1:
        raise _fault(name, f"{text.count(chr(10)):,} lines", f"at most {MOST_LINES:,}")
    return tuple(csv_lines(text, _separator(text), name))


def _separator(text: str) -> str:
    """The sign that splits the heading into columns: the one that gives the most known names."""
    heads = [line for line in text.splitlines()[:50] if line.strip()]

    def known(separator: str) -> int:
        return max(
            (sum(column_of(cell.strip(' "')) is not None for cell in line.split(separator)[:200])
             for line in heads),
            default=0,
        )  # fmt: skip

    return max(SEPARATORS, key=known)


def _of_workbook(data: bytes, name: str) -> Grids:
    try:
        entries = guarded(unpacked(data, file=name))
        paths = worksheet_paths(entries)
        for path in paths.values():
            scan(entries[path])
    except (XmlError, WorksheetError) as error:
        mend = "Save it again with only the list in it."
        raise _fault(name, str(error), "a workbook with a price list", mend) from None
    return tuple(_worksheet(entries, sheet, name) for sheet in paths)


def _worksheet(entries: Mapping[str, bytes], sheet: str, name: str) -> tuple[Line, ...]:
    return tuple(
        tuple(
            Cell(_scalar(value), Place(file=name, sheet=sheet, row=row, column=letters(at)))
            for at, value in enumerate(line, start=1)
        )
        for row, line in enumerate(_values(entries, sheet, name), start=1)
    )


def _values(entries: Mapping[str, bytes], sheet: str, name: str) -> list[list[Any]]:
    """A calculated price counts by the value that was saved with it."""
    from python_calamine import CalamineWorkbook

    try:
        book = CalamineWorkbook.from_filelike(repacked(entries))
        return list(book.get_sheet_by_name(sheet).to_python(skip_empty_area=False))
    except (KeyboardInterrupt, SystemExit, MemoryError):
        raise
    except BaseException:  # the library's own errors; a panic in it is no Exception
        raise _fault(name, f"a worksheet {sheet} that cannot be read", "a plain one") from None


def _scalar(value: Any) -> str | int | float:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return value
    return str(value)


def _fault(name: str, read: str, expected: str, mend: str = "") -> FaultsError:
    return FaultsError([Fault(Place(file=name), read, expected, mend)])
