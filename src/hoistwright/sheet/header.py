"""Access to the header lines of a sheet, with the faults that they give."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import TypeVar

import attrs

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.sheet.columns import HEADER, nearest
from hoistwright.sheet.dates import EXPECTED, DateError, date_of
from hoistwright.sheet.folding import folded
from hoistwright.sheet.raw import Cell, RawSheet
from hoistwright.sheet.spellings import by_spelling

T = TypeVar("T")

_LINES = {line.key: line for line in HEADER}


@attrs.define
class Header:
    """Header lines by key. Whatever is wrong with one is added to `faults`."""

    raw: RawSheet
    faults: list[Fault]

    @property
    def folder(self) -> Path:
        """Where the sheet lies: relative paths in it start here."""
        return Path(self.raw.file).parent

    def cell(self, key: str) -> Cell:
        """The line's cell; an empty one where the sheet has no such line."""
        return self.raw.header.get(key) or Cell("", Place(file=self.raw.file, key=key))

    def text(self, key: str) -> str:
        return self.cell(key).text

    def texts(self, table: str, keys: Iterable[str]) -> dict[str, str]:
        return {key: self.text(f"{table}.{key}") for key in keys}

    def wrong(self, key: str, expected: str, mend: str = "") -> None:
        self.faults.append(self.cell(key).fault(expected, mend))

    def needed(self, key: str, mend: str = "") -> str:
        """The text of a line that must be filled."""
        text = self.text(key)
        if not text:
            self.wrong(key, f"{_LINES[key].label}: {_LINES[key].hint}", mend)
        return text

    def word(self, key: str, words: Mapping[str, T], expected: str) -> T | None:
        """The meaning of one word out of `words`; None where the line is empty or wrong."""
        text = self.text(key).casefold()
        if not text:
            return None
        meant = text if text in words else by_spelling(words).get(folded(text) or text, text)
        if meant not in words:
            self.wrong(key, expected)
        return words.get(meant)

    def date(self, key: str) -> datetime.date | None:
        cell = self.cell(key)
        if not cell.text:
            return None
        try:
            return date_of(cell)
        except DateError as error:
            self.wrong(key, EXPECTED, error.mend)
            return None

    def found(
        self, key: str, name: str, find: Callable[[str], T], known: Iterable[str], what: str
    ) -> T | None:
        """What `find` gives for a name. A name it does not know is a fault of this line; faults
        of the file that the name leads to keep their own place.
        """
        try:
            return find(name)
        except FaultsError as error:
            for fault in error.faults:
                self.faults.append(fault if fault.place.file else self._unknown(key, fault, known))
        except (OSError, ValueError):  # a name that no file can have
            self.wrong(key, what, nearest(name, known))
        return None

    def _unknown(self, key: str, fault: Fault, known: Iterable[str]) -> Fault:
        near = nearest(self.text(key), known)
        mend = " ".join(part for part in (near, fault.mend) if part)
        return attrs.evolve(fault, place=self.cell(key).place, mend=mend)
