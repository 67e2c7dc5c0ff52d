"""Dates as people type them, where only one reading exists."""

from __future__ import annotations

import datetime
import re

from hoistwright.sheet.raw import Cell

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
EXPECTED = "a date like 2026-11-25"


class DateError(ValueError):
    """A date that cannot be taken; `mend` says how to write it."""

    def __init__(self, mend: str = "") -> None:
        super().__init__(mend)
        self.mend = mend


def date_of(cell: Cell) -> datetime.date:
    """The date in a cell. Raises DateError.

    Taken are a date cell, 2026-11-25, 25 Nov 2026 and 25.11.2026. A date between slashes is
    refused: it is read as day/month in one country and month/day in the next.
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
        if match := re.fullmatch(r"(\d{1,2})\.? ([A-Za-z]{3,9})\.? (\d{4})", text, re.ASCII):
            month = _MONTHS.index(match[2][:3].lower()) + 1
            return datetime.date(int(match[3]), month, int(match[1]))
    except ValueError:
        raise DateError("There is no such day.") from None
    if "/" in text:
        raise DateError("Between slashes a date reads differently from country to country.")
    raise DateError
