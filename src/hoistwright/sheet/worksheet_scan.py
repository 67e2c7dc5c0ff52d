"""What a spreadsheet reader does not tell: formulas, error values, merges, far-off cells.

Reading goes by the library; this scan of the worksheet's XML comes before it, because one cell
in the last row and column would make a reader lay out billions of empty ones.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from xml.parsers import expat

import attrs

MOST_ROWS = 6_000
MOST_COLUMNS = 60

_ADDRESS = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
Position = tuple[int, int]
"""Row and column, from 1."""


class WorksheetError(ValueError):
    """A worksheet that must not be read; says why."""


@attrs.define
class Scan:
    formulas: set[Position] = attrs.field(factory=set)
    errors: set[Position] = attrs.field(factory=set)
    merged: list[tuple[Position, Position]] = attrs.field(factory=list)


def scan(xml: bytes) -> Scan:
    """Scan one worksheet. Raises WorksheetError for one that is broken or without end."""
    found = Scan()
    parser = expat.ParserCreate(namespace_separator="}")
    parser.StartElementHandler = _Handler(found)
    try:
        parser.Parse(xml, True)
    except WorksheetError:
        raise
    except (expat.ExpatError, LookupError, ValueError):  # the last two: an unknown encoding
        raise WorksheetError("a worksheet whose XML is broken") from None
    return found


@attrs.define
class _Handler:
    """Takes each element as it begins; `at` is the cell that the parser is in."""

    found: Scan
    at: Position = (0, 0)

    def __call__(self, tag: str, attributes: Mapping[str, str]) -> None:
        name = tag.rpartition("}")[2]
        if name == "row" and "r" in attributes:
            _within(position(f"A{attributes['r']}"))
        elif name == "c":
            self.at = _within(position(attributes.get("r", "")))
            if attributes.get("t") == "e":
                self.found.errors.add(self.at)
        elif name == "f":
            self.found.formulas.add(self.at)
        elif name == "mergeCell":
            first, _, last = attributes.get("ref", "").partition(":")
            self.found.merged.append((position(first), position(last or first)))


def letters(column: int) -> str:
    """The letters of a column.

    >>> letters(1), letters(27)
    ('A', 'AA')
    """
    out = ""
    while column > 0:
        column, rest = divmod(column - 1, 26)
        out = chr(ord("A") + rest) + out
    return out


def position(address: str) -> Position:
    """Row and column of an address such as "B7". Raises WorksheetError."""
    match = _ADDRESS.fullmatch(address)
    if match is None:
        raise WorksheetError("a worksheet with a cell that has no address")
    column = 0
    for letter in match[1]:
        column = 26 * column + ord(letter) - ord("A") + 1
    return int(match[2]), column


def _within(at: Position) -> Position:
    if not (1 <= at[0] <= MOST_ROWS and 1 <= at[1] <= MOST_COLUMNS):
        raise WorksheetError(f"a cell in row {at[0]}, column {letters(at[1])}")
    return at
