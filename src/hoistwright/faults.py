"""Faults in what people give us: what was read, what was expected, where, and how to mend it.

Every reader of files collects all faults first and raises them together, so that a
technician mends a sheet once and not ten times.
"""

from __future__ import annotations

from collections.abc import Iterable

import attrs


@attrs.frozen
class Place:
    """Where a fault is. Any part may be unknown; rows and lines count from 1."""

    file: str = ""
    line: int | None = None
    sheet: str = ""
    row: int | None = None
    column: str = ""
    key: str = ""

    def __str__(self) -> str:
        parts = [self.file] if self.file else []
        if self.line is not None:
            parts.append(f"line {self.line}")
        if self.sheet:
            parts.append(f"sheet {self.sheet}")
        if self.row is not None:
            parts.append(f"row {self.row}")
        if self.column:
            parts.append(f"column {self.column}")
        if self.key:
            parts.append(f"key {self.key}")
        return ", ".join(parts)


@attrs.frozen
class Fault:
    """One thing that is wrong with an input.

    `read` is what stands there, `expected` what may stand there, `mend` the next step
    in the reader's own work (empty where `expected` says it already).
    """

    place: Place
    read: str
    expected: str
    mend: str = ""

    def __str__(self) -> str:
        text = f"{self.place}: " if str(self.place) else ""
        text += f"read {self.read}; expected {self.expected}"
        return f"{text}. {self.mend}" if self.mend else text


class FaultsError(Exception):
    """Input that cannot be used, with all its faults. Nothing of it has been taken over."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        if not self.faults:
            raise ValueError("FaultsError needs at least one fault")
        super().__init__("\n".join(str(fault) for fault in self.faults))
