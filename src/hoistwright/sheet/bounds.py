"""How large a sheet may be, and which signs may stand in it: nothing hostile gets further."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterable, Iterator

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.sheet.raw import Cell, RawSheet, shortened

MAX_BYTES = 5_000_000
MAX_ROWS = 5_000
MAX_TEXT = 2_000


def bounds_faults(sheet: RawSheet) -> list[Fault]:
    """Every cell that no honest sheet holds: too long, control signs, not a finite figure."""
    return [fault for cell in _cells(sheet) for fault in _of_cell(cell)]


def too_many_rows(place: Place) -> FaultsError:
    """The error for a table without end."""
    return FaultsError(
        [Fault(place, f"more than {MAX_ROWS:,} rows", "a sheet for one hoist, a few hundred rows")]
    )


def too_large(file: str, size: int) -> FaultsError:
    """The error for a file that is no sheet by its size alone."""
    expected = f"a job sheet, at most {MAX_BYTES:,} bytes"
    return FaultsError([Fault(Place(file=file), f"{size:,} bytes", expected)])


def _cells(sheet: RawSheet) -> Iterator[Cell]:
    yield from sheet.header.values()
    for row in sheet.rows:
        yield from row.cells.values()
        yield from row.values


def _of_cell(cell: Cell) -> Iterable[Fault]:
    value = cell.value
    if isinstance(value, float) and not math.isfinite(value):
        yield cell.fault("a finite figure")
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) > 10**15:
        yield cell.fault("a figure of at most 15 digits", read="a whole number beyond all measure")
    if not isinstance(value, str):
        return
    if len(value) > MAX_TEXT:
        read = f"a text of {len(value):,} characters"
        yield cell.fault(f"at most {MAX_TEXT:,} characters", read=read)
        return
    strange = next((sign for sign in value if _strange(sign)), None)
    if strange is not None:
        read = f"the control sign U+{ord(strange):04X} in {shortened(_printable(value))}"
        yield cell.fault("text without control signs", "Type the cell again.", read=read)


def _strange(sign: str) -> bool:
    return unicodedata.category(sign) in ("Cc", "Cs", "Cn", "Co") and sign not in "\t\n\r"


def _printable(text: str) -> str:
    return "".join("?" if _strange(sign) else sign for sign in text)
