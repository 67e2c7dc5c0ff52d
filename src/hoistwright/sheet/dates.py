"""Dates as people type them, where only one reading exists."""

from __future__ import annotations

import datetime
import re
import unicodedata

from hoistwright.sheet.raw import Cell

_MONTHS = (
    ("january", "janvier"), ("february", "fevrier"), ("march", "mars"), ("april", "avril"),
    ("may", "mai"), ("june", "juin"), ("july", "juillet"), ("august", "aout"),
    ("september", "septembre"), ("october", "octobre"), ("november", "novembre"),
    ("december", "decembre"),
)  # fmt: skip
"""English and French, without accents."""
EXPECTED = "a date like 2026-11-25"


class DateError(ValueError):
    """A date that cannot be taken; `mend` says how to write it."""

    def __init__(self, mend: str = "") -> None:
        super().__init__(mend)
        self.mend = mend


def date_of(cell: Cell) -> datetime.date:
    """The date in a cell. Raises DateError.

    Taken are a date cell, 2026-11-25, 25 Nov 2026, 3 févr. 2026 and 25.11.2026. A date between
    slashes is refused: it is read as day/month in one country and month/day in the next.
    """
    value = cell.value
    if isinstance(value, datetime.datetime):
        return value.date()
    if isinstance(value, datetime.date):
        return value
    if not isinstance(value, str):
        raise DateError("Format the cell as a date, or type the date as text.")
    return _from_text(cell.text)


def _from_text(text: str) -> datetime.date:
    try:
        if match := re.fullmatch(r"(\d{4})-(\d{1,2})-(\d{1,2})", text, re.ASCII):
            return datetime.date(int(match[1]), int(match[2]), int(match[3]))
        if match := re.fullmatch(r"(\d{1,2})\. ?(\d{1,2})\. ?(\d{4})", text, re.ASCII):
            return datetime.date(int(match[3]), int(match[2]), int(match[1]))
        if match := re.fullmatch(r"([0-9]{1,2})\.? ([^\W\d_]{3,9})\.? ([0-9]{4})", text):
            return datetime.date(int(match[3]), _month(match[2]), int(match[1]))
    except ValueError:
        raise DateError("There is no such day.") from None
    if "/" in text:
        raise DateError("Between slashes a date reads differently from country to country.")
    raise DateError


def _month(word: str) -> int:
    """The month that a word or its beginning names. Raises ValueError.

    >>> _month("Nov"), _month("févr"), _month("août"), _month("juil")
    (11, 2, 8, 7)
    """
    plain = unicodedata.normalize("NFKD", word.casefold())
    letters = "".join(sign for sign in plain if not unicodedata.combining(sign))
    found = [
        number
        for number, names in enumerate(_MONTHS, start=1)
        if any(name.startswith(letters) for name in names)
    ]
    if len(found) != 1:
        raise ValueError(f"{word!r}; expected the name of a month")
    return found[0]
