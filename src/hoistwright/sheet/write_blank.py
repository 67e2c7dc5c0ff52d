"""Write a blank job sheet to a file: TOML, CSV or XLSX by the ending of its name."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.sheet.blank import BlankSheet
from hoistwright.sheet.blank_csv import blank_csv
from hoistwright.sheet.blank_toml import blank_toml

if TYPE_CHECKING:
    from hoistwright.job.shop import Shop


def write_blank(
    path: Path, blank: BlankSheet, *, shop: Shop | None = None, separator: str = ""
) -> None:
    """Write `blank` to `path`. `shop` gives an XLSX its lists of gauges and people; `separator`
    is that of a CSV; empty: a semicolon where the sheet's language has a decimal comma, as its
    spreadsheets want it, else a comma. A file that is there already is not touched.

    Errors:
        FaultsError: another ending, a file that is there, a folder that cannot be written.
    """
    data = _data(path, blank, shop, separator)
    try:
        with path.open("xb") as file:
            file.write(data)
    except FileExistsError:
        said, expected = "a file that is there already", "a new file: it may hold readings"
    except (OSError, ValueError) as error:
        said, expected = str(getattr(error, "strerror", "") or error), "a file that can be written"
    else:
        return
    raise FaultsError([Fault(Place(file=str(path)), said, expected)])


def _data(path: Path, blank: BlankSheet, shop: Shop | None, separator: str) -> bytes:
    suffix = path.suffix.casefold()
    if suffix == ".toml":
        return blank_toml(blank).encode()
    if suffix == ".csv":
        return blank_csv(blank, separator=separator or _separator(blank)).encode("utf-8-sig")
    if suffix == ".xlsx":
        from hoistwright.sheet.blank_xlsx import blank_xlsx

        return blank_xlsx(blank, shop=shop)
    expected = "a name ending in .toml, .csv or .xlsx"
    raise FaultsError([Fault(Place(file=str(path)), f"the ending '{path.suffix}'", expected)])


def _separator(blank: BlankSheet) -> str:
    return ";" if blank.language.decimal == "," else ","
