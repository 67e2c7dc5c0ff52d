"""A filled sheet before it is checked: cells with their places, whatever file they came from."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Literal

import attrs

from hoistwright.faults import Fault, Place

Scalar = str | int | float | bool | datetime.date

_SHOWN = 40  # characters of a cell that an error repeats


@attrs.frozen
class Cell:
    """What stands in one cell (or at one key), and where."""

    value: Scalar
    place: Place

    @property
    def text(self) -> str:
        """The value as text, the way a person would have typed it."""
        return text_of(self.value)

    @property
    def read(self) -> str:
        """The value as an error repeats it."""
        return shortened(self.text)

    def fault(self, expected: str, mend: str = "", *, read: str = "") -> Fault:
        return Fault(self.place, read or self.read, expected, mend)


@attrs.frozen(kw_only=True)
class RawRow:
    """One row. `kind` is known in TOML; elsewhere the feature tells it.

    `values` are the cells of the reading: several where a list was written.
    """

    place: Place
    kind: Literal["reading", "look", ""] = ""
    cells: Mapping[str, Cell] = attrs.field(factory=dict)
    values: tuple[Cell, ...] = ()

    def text(self, column: str) -> str:
        """The text in a column, "" where it is empty."""
        cell = self.cells.get(column)
        return cell.text if cell else ""

    def at(self, column: str) -> Cell:
        """The cell of a column; an empty one at the row's place where there is none."""
        return self.cells.get(column) or Cell("", self.place)


@attrs.frozen(kw_only=True)
class RawSheet:
    """A whole sheet. Header keys are those of `sheet/columns.py`; `faults` are those of layout,
    told together with those of the entries.
    """

    file: str
    header: Mapping[str, Cell]
    rows: tuple[RawRow, ...]
    faults: tuple[Fault, ...] = ()


def text_of(value: Scalar) -> str:
    """A cell's value as text: 12345.0 from a spreadsheet is the serial number 12345.

    >>> text_of(12345.0), text_of(" 2 t "), text_of(True)
    ('12345', '2 t', 'yes')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    if isinstance(value, datetime.datetime) and value.time() == datetime.time():
        return value.date().isoformat()
    if isinstance(value, datetime.date):
        return value.isoformat()
    return " ".join(str(value).split()) if isinstance(value, str) else str(value)


def shortened(text: str) -> str:
    """Text as an error repeats it: quoted, and cut where it is long."""
    if not text:
        return "nothing"
    return f"'{text}'" if len(text) <= _SHOWN else f"'{text[:_SHOWN]}…' ({len(text)} characters)"
