"""The header lines and the columns of a job sheet, and the ways people write them."""

from __future__ import annotations

import difflib
import functools
from collections.abc import Iterable, Mapping

import attrs

from hoistwright.sheet.folding import folded
from hoistwright.sheet.spellings import by_spelling

__all__ = [
    "COLUMNS", "HEADER", "NOTES", "HeaderLine", "column_of", "folded", "header_key", "nearest",
]  # fmt: skip


@attrs.frozen
class HeaderLine:
    """One line of the header: its key in TOML, its label elsewhere, what may stand there."""

    key: str
    label: str
    hint: str
    required: bool = False


HEADER: tuple[HeaderLine, ...] = (
    HeaderLine("format", "format", "1: leave it as it is", required=True),
    HeaderLine("job", "job", "the number of this job", required=True),
    HeaderLine(
        "design", "design", "key of a shipped design, or the path of a design file", required=True
    ),
    HeaderLine("hoist.maker", "maker", "as on the data plate; empty where illegible"),
    HeaderLine("hoist.model", "model", "as on the data plate"),
    HeaderLine("hoist.serial", "serial number", "as on the data plate"),
    HeaderLine("hoist.manufactured", "manufactured", "year, or year and month: 2019-05"),
    HeaderLine("hoist.rated_load", "rated load", "with its unit: 2 t, 500 kg, 4000 lb"),
    HeaderLine("hoist.tag", "tag", "the customer's own number for the hoist"),
    HeaderLine("customer.name", "customer", "name"),
    HeaderLine("customer.address", "customer address", "address"),
    HeaderLine("customer.premises", "premises", "where the hoist is used, if elsewhere"),
    HeaderLine("customer.language", "language of papers", "en or fr; empty: the shop's"),
    HeaderLine("work.received_on", "received on", "date: 2026-11-25"),
    HeaderLine("work.examined_on", "examined on", "date: 2026-11-25", required=True),
    HeaderLine("work.examined_by", "examined by", "a person of the shop file", required=True),
    HeaderLine("work.last_examined_on", "last examined on", "date: 2026-11-25"),
    HeaderLine("work.bases", "bases", "keys of the bases; between two a semicolon", required=True),
    HeaderLine("work.service", "service", "normal, heavy or severe"),
    HeaderLine("work.complaint", "complaint", "what the customer says"),
    HeaderLine("work.remark", "work remark", "anything else"),
    HeaderLine("sheet.units", "units", "mm or in: the unit of a length without one"),
    HeaderLine("sheet.decimal", "decimal mark", "point or comma; empty: both"),
    HeaderLine("sheet.confirmed", "confirmed", "yes where every magnitude was asked back before"),
)

COLUMNS: tuple[str, ...] = (
    "part", "feature", "place", "reading", "unit", "gauge", "links", "answer", "remark", "photo",
    "by",
)  # fmt: skip
"""The columns that are read."""

NOTES: tuple[str, ...] = ("what to do", "how", "as new", "limit", "name", "instruments", "caution")
"""The columns that a blank sheet prints for the technician; they are not read."""

_OTHER_NAMES = {
    "serial": "hoist.serial", "serial no": "hoist.serial", "customer name": "customer.name",
    "customer's address": "customer.address", "address": "customer.address",
    "basis": "work.bases", "decimal": "sheet.decimal", "unit": "sheet.units",
    "remark": "work.remark", "customer s tag": "hoist.tag", "date": "work.examined_on",
}  # fmt: skip

_OTHER_COLUMNS = {
    "value": "reading",
    "values": "reading",
    "readings": "reading",
    "answers": "answer",
}


@functools.cache
def _header_names() -> Mapping[str, str]:
    labels = {line.label: line.key for line in HEADER}
    names = {spelling: labels[label] for spelling, label in by_spelling(labels).items()}
    names |= {folded(line.key): line.key for line in HEADER}
    names |= {folded(line.label): line.key for line in HEADER}
    names |= {folded(other): key for other, key in _OTHER_NAMES.items()}
    return names


def header_key(text: str) -> str | None:
    """The header key that a line's first cell names; None where it names none.

    >>> header_key("Rated load"), header_key("hoist.rated_load"), header_key("colour")
    ('hoist.rated_load', 'hoist.rated_load', None)
    """
    return _header_names().get(folded(text))


def column_of(text: str) -> str | None:
    """The column that a heading names (one that is read, or a note); None for neither.

    >>> column_of("Reading"), column_of("As new"), column_of("colour")
    ('reading', 'as new', None)
    """
    name = folded(text)
    return _column_names().get(_OTHER_COLUMNS.get(name, name))


@functools.cache
def _column_names() -> Mapping[str, str]:
    own = {name: name for name in (*COLUMNS, *NOTES)}
    return {**by_spelling(own), **own}


def nearest(text: str, known: Iterable[str]) -> str:
    """A sentence with the nearest known name, or "" where none is near.

    >>> nearest("frction disc", ["friction disc", "hook"])
    "Did you mean 'friction disc'?"
    """
    names: dict[str, str] = {}
    for name in known:  # of two spellings of one name the first is told
        names.setdefault(folded(name), name)
    found = difflib.get_close_matches(folded(text)[:80], names, n=1, cutoff=0.6)
    return f"Did you mean '{names[found[0]]}'?" if found else ""
