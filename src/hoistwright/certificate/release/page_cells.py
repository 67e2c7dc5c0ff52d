"""Small pieces of pages: labelled lines, tables, figures with units, in one language."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from hoistwright.certificate.writer import SIGNS, Writer

__all__ = ["SIGNS", "Writer", "caution", "grouped", "lines", "section", "table", "text"]


def grouped(digits: str) -> str:
    """A hash in groups of eight, to be read and compared by people.

    >>> grouped("ba7816bf8f01cfea")
    'ba7816bf 8f01cfea'
    """
    return " ".join(digits[at : at + 8] for at in range(0, len(digits), 8))


def lines(*pairs: tuple[str, str]) -> dict[str, Any]:
    """Label and value, one below the other; lines without a value are left out."""
    return {"kind": "lines", "lines": [[label, value] for label, value in pairs if value]}


def text(words: str, *, strong: bool = False, small: bool = False) -> dict[str, Any]:
    return {"kind": "text", "text": words, "strong": strong, "small": small}


def caution(word: str, words: str) -> dict[str, Any]:
    return {"kind": "caution", "word": word, "text": words}


def table(
    columns: Sequence[float], head: Sequence[str], rows: Sequence[Sequence[Any]]
) -> dict[str, Any]:
    """A table; `columns` are widths in mm, 0 for what is left over. A cell is a text, or a sign
    with its word, or a list of texts one below the other (all but the first set small).
    """
    return {
        "kind": "table",
        "columns": list(columns),
        "head": list(head),
        "rows": [[cell if isinstance(cell, dict) else _texts(cell) for cell in r] for r in rows],
    }


def _texts(cell: Any) -> list[str]:
    return [cell] if isinstance(cell, str) else [item for item in cell if item]


def section(heading: str, *blocks: dict[str, Any], lead: str = "") -> dict[str, Any]:
    return {"heading": heading, "lead": lead, "blocks": list(blocks)}
