"""`hoistwright export`: everything, as JSON lines, CSV or a workbook."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli.show import console, plain
from hoistwright.cli.stores import store_at, watched, where

if TYPE_CHECKING:
    from hoistwright.store.sql_store import SqlStore


def arguments(parser: argparse.ArgumentParser) -> None:
    where(parser)
    parser.add_argument(
        "--to",
        required=True,
        metavar="PLACE",
        help="x.jsonl: the whole journal, exact, for `import`; x.xlsx: the tables as a workbook; "
        "a folder: the tables as CSV files",
    )


def run(args: argparse.Namespace) -> int:
    path = Path(args.to)
    _refuse_other_endings(path)
    with store_at(args.db) as store:
        told = _write(store, path)
    console().print(plain(told))
    return 0


def _write(store: SqlStore, path: Path) -> str:
    from hoistwright.store.lines import export_lines
    from hoistwright.store.tables_out import export_csv, export_xlsx

    if path.suffix == ".jsonl":
        with watched("Writing entries") as progress:
            count = export_lines(store, path, progress=progress)
        return f"{path} holds {count} entries, and every photo and paper."
    with console().status("Writing tables"):
        if path.suffix == ".xlsx":
            return f"{export_xlsx(store, path)} holds the tables of the record."
        files = export_csv(store, path)
    return f"{path} holds {', '.join(file.name for file in files)}."


def _refuse_other_endings(path: Path) -> None:
    from hoistwright.faults import Fault, FaultsError, Place

    if path.suffix and path.suffix not in (".jsonl", ".xlsx") and not path.is_dir():
        expected = "a name that ends in .jsonl or .xlsx, or that of a folder"
        raise FaultsError([Fault(Place(file=str(path)), f"the ending {path.suffix}", expected)])
