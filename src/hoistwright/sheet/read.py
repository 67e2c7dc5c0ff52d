"""Read a filled job sheet: TOML, CSV or XLSX, by the ending of its name."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.job.job_sheet import JobSheet
from hoistwright.sheet.bounds import MAX_BYTES, too_large
from hoistwright.sheet.check import check
from hoistwright.sheet.raw import RawSheet
from hoistwright.sheet.text import decoded

if TYPE_CHECKING:
    from hoistwright.job.shop import Shop

SUFFIXES = (".toml", ".csv", ".xlsx")


def read_sheet(
    path: Path, *, shop: Shop | None = None, today: datetime.date | None = None
) -> JobSheet:
    """Read and check the job sheet at `path`.

    Args:
        path: a file ending in .toml, .csv (or .tsv, .txt) or .xlsx.
        shop: the shop whose people and gauges the sheet names; without it any name is taken.
        today: no examination may lie after it.

    Errors:
        FaultsError: with every fault found, each with its place in the file; nothing is
            taken over then.
    """
    return check(raw_sheet(path), shop=shop, today=today)


def raw_sheet(path: Path) -> RawSheet:
    """The cells of the sheet at `path`, unchecked."""
    data = _bytes(path)
    file, suffix = str(path), path.suffix.casefold()
    if suffix == ".toml":
        from hoistwright.sheet.read_toml import raw_from_toml

        return raw_from_toml(decoded(data, file=file), file=file)
    if suffix in (".csv", ".tsv", ".txt"):
        from hoistwright.sheet.read_csv import raw_from_csv

        return raw_from_csv(decoded(data, file=file), file=file)
    if suffix == ".xlsx":
        from hoistwright.sheet.read_xlsx import raw_from_xlsx

        return raw_from_xlsx(data, file=file)
    place = Place(file=file)
    expected = "a job sheet ending in " + ", ".join(SUFFIXES)
    raise FaultsError([Fault(place, f"the ending '{path.suffix}'", expected)])


def _bytes(path: Path) -> bytes:
    try:
        size = path.stat().st_size
        if size > MAX_BYTES:
            raise too_large(str(path), size)
        return path.read_bytes()
    except OSError as error:
        said = error.strerror or str(error)
    except ValueError:
        said = "a name no file can have"
    raise FaultsError([Fault(Place(file=str(path)), said, "a file that can be read")])
