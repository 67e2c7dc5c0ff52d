"""Read a shop's price and stock list: CSV or XLSX, with every fault told at once."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.pricing.columns import COLUMNS, FITS_COLUMNS, is_fits_heading, is_list_heading
from hoistwright.pricing.grids import MOST_BYTES, Grids, grids_of
from hoistwright.pricing.rows import Read, read_row, rows_under
from hoistwright.pricing.whole import Fit, Parts, whole_faults
from hoistwright.renew.prices import PriceBook
from hoistwright.sheet.grid import Line


def read_prices(path: Path, *, currency: str = "", known: Parts | None = None) -> PriceBook:
    """The price list at `path`; see `prices_of`. Raises FaultsError."""
    try:
        size = path.stat().st_size
        data = path.read_bytes() if size <= MOST_BYTES else b""
    except OSError as error:
        said = error.strerror or str(error)
        raise FaultsError(
            [Fault(Place(file=str(path)), said, "a price list that can be read")]
        ) from None
    if size > MOST_BYTES:
        place = Place(file=str(path))
        raise FaultsError([Fault(place, f"{size:,} bytes", f"at most {MOST_BYTES:,}")])
    return prices_of(data, str(path), currency=currency, known=known)


def prices_of(
    data: bytes, name: str, *, currency: str = "", known: Parts | None = None
) -> PriceBook:
    """The price list in the bytes of a CSV or XLSX file.

    One table is headed with number and price; a second one, on another worksheet, may be headed
    design, part, number. Other worksheets are not read.

    Args:
        data: the file.
        name: of the file; its ending says what it is, and faults name it.
        currency: the shop's; a list in another one is a fault. Empty: that of the list.
        known: part keys of known designs; what is said to fit them must be among these.

    Errors:
        FaultsError: with every fault found, each with row and column; nothing is taken over.
    """
    grids = grids_of(data, name)
    faults: list[Fault] = []
    read, fits = _list(grids, name, faults)
    fits += _second_table(grids, faults)
    faults += whole_faults(read, fits, currency, known or {})
    if faults:
        raise FaultsError(faults)
    found = next((item.currency for item in read if item.currency), "")
    return PriceBook(
        currency=currency or found,
        lines={item.line.number: item.line for item in read},
        fits={pair: number for pair, number, _ in fits},
    )


def _list(grids: Grids, name: str, faults: list[Fault]) -> tuple[list[Read], list[Fit]]:
    found = [(grid, at) for grid in grids if (at := _heading(grid)) is not None]
    if len(found) != 1:
        read = "no table" if not found else f"{len(found)} tables"
        expected = f"one table headed {', '.join(COLUMNS)}; number and price are needed"
        raise FaultsError([Fault(Place(file=name), read, expected)])
    grid, at = found[0]
    rows = [read_row(row, faults) for row in rows_under(grid[at], grid[at + 1 :], COLUMNS, faults)]
    fits = [(pair, row.line.number, row.at("fits")) for row in rows for pair in row.fits]
    return rows, fits


def _heading(grid: Sequence[Line]) -> int | None:
    """The line that heads the list; titles above it are passed over."""
    lines = enumerate(grid[:50])
    return next((at for at, ln in lines if is_list_heading([c.text for c in ln])), None)


def _second_table(grids: Grids, faults: list[Fault]) -> list[Fit]:
    fits: list[Fit] = []
    for grid in grids:
        if grid and is_fits_heading([cell.text for cell in grid[0]]):
            for row in rows_under(grid[0], grid[1:], FITS_COLUMNS, faults):
                number = row["number"]
                fits.append(((row["design"].text, row["part"].text), number.text, number))
    return fits
