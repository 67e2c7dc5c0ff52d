"""Rows as CSV text for people's spreadsheets."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence


def csv_text(heads: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """A heading and rows, comma separated (RFC 4180); nothing that a spreadsheet would run.

    >>> csv_text(["a", "b"], [["=1+1", None]]).splitlines()
    ['a,b', "'=1+1,"]
    """
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(heads)
    writer.writerows([_harmless(cell) for cell in row] for row in rows)
    return out.getvalue()


def _harmless(cell: object) -> object:
    """A text that a spreadsheet would take for a formula is shown as text."""
    if cell is None:
        return ""
    begins = isinstance(cell, str) and cell[:1] in ("=", "+", "-", "@", "\t", "\r")
    return f"'{cell}" if begins else cell
