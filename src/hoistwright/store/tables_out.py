"""The made tables as CSV files or one workbook, for people and for other programs."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from sqlalchemy import Table, select

from hoistwright.store.connect import reading
from hoistwright.store.safe_file import on_disk, written
from hoistwright.store.sql_store import SqlStore
from hoistwright.store.tables import hoists, jobs, looks, readings

OUT = (jobs, hoists, readings, looks)

MOST_ROWS = 1_048_575
"""Rows a worksheet holds below its heading."""


def export_csv(store: SqlStore, folder: Path) -> tuple[Path, ...]:
    """Write each table as a CSV file (UTF-8, SI units); their paths."""
    folder.mkdir(parents=True, exist_ok=True)
    paths: list[Path] = []
    for table in OUT:
        path = folder / f"{table.name}.csv"
        with written(path, newline="") as file:
            writer = csv.writer(file)
            writer.writerow(_names(table))
            writer.writerows([_harmless(cell) for cell in row] for row in _rows(store, table))
        paths.append(path)
    return tuple(paths)


def export_xlsx(store: SqlStore, path: Path) -> Path:
    """Write all tables as one workbook; one longer than a worksheet goes on in a further one."""
    import xlsxwriter

    beside = path.with_name(path.name + ".part")
    book = xlsxwriter.Workbook(
        str(beside),
        {"constant_memory": True, "strings_to_formulas": False, "strings_to_urls": False},
    )
    bold = book.add_format({"bold": True})
    for table in OUT:
        _sheets(book, table, _rows(store, table), bold)
    book.close()
    beside.replace(path)
    on_disk(path.parent)
    return path


def _sheets(book: Any, table: Table, rows: Iterator[tuple[Any, ...]], bold: Any) -> None:
    sheet, at, part = None, 0, 0
    for row in rows:
        if sheet is None or at > MOST_ROWS:
            part += 1
            sheet, at = _sheet(book, table, part, bold), 1
        sheet.write_row(at, 0, row)
        at += 1
    if sheet is None:
        _sheet(book, table, 1, bold)


def _sheet(book: Any, table: Table, part: int, bold: Any) -> Any:
    sheet = book.add_worksheet(table.name if part == 1 else f"{table.name} {part}")
    sheet.write_row(0, 0, _names(table), bold)
    sheet.freeze_panes(1, 0)
    sheet.set_column(0, len(table.columns) - 1, 16)
    return sheet


def _names(table: Table) -> list[str]:
    return [column.name for column in table.columns]


def _rows(store: SqlStore, table: Table) -> Iterator[tuple[Any, ...]]:
    with reading(store.engine) as connection:
        asked = select(table).order_by(*table.primary_key)
        for row in connection.execution_options(yield_per=2000).execute(asked):
            yield tuple(row)


def _harmless(cell: Any) -> Any:
    """A text that a spreadsheet would take for a formula is shown as text."""
    return f"'{cell}" if isinstance(cell, str) and cell[:1] in ("=", "+", "-", "@") else cell
