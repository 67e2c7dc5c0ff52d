"""A job sheet in TOML: tables for the header, one [[reading]] or [[look]] per row."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from typing import Any, Literal

import attrs

from hoistwright.datafile import read_table
from hoistwright.datafile.explain import dotted
from hoistwright.datafile.lines import KeyPath, line_index
from hoistwright.faults import Fault, Place
from hoistwright.sheet.bounds import MAX_ROWS, too_many_rows
from hoistwright.sheet.columns import HEADER, nearest
from hoistwright.sheet.raw import Cell, RawRow, RawSheet, Scalar, shortened

_TABLES = ("hoist", "customer", "work", "sheet")
_ROW_KEYS: dict[str, tuple[str, ...]] = {
    "reading": ("part", "feature", "place", "value", "values", "unit", "gauge", "links", "remark",
                "by"),
    "look": ("part", "feature", "place", "answer", "remark", "photo", "by"),
}  # fmt: skip


def raw_from_toml(text: str, *, file: str = "") -> RawSheet:
    """The cells of a TOML sheet. Raises FaultsError for text that is no job sheet."""
    table = read_table(text, file=file)
    reader = _Reader(file, line_index(text))
    header = dict(reader.header(table))
    rows = tuple(reader.rows(table))
    return RawSheet(file=file, header=header, rows=rows, faults=tuple(reader.faults))


@attrs.define
class _Reader:
    file: str
    lines: Mapping[KeyPath, int]
    faults: list[Fault] = attrs.field(factory=list)

    def place(self, path: KeyPath) -> Place:
        known = (self.lines.get(path[:length]) for length in range(len(path), 0, -1))
        line = next((number for number in known if number is not None), None)
        return Place(file=self.file, line=line, key=dotted(path))

    def wrong(self, path: KeyPath, read: str, expected: str, mend: str = "") -> None:
        self.faults.append(Fault(self.place(path), read, expected, mend))

    def header(self, table: Mapping[str, Any]) -> Iterator[tuple[str, Cell]]:
        keys = {line.key for line in HEADER}
        for name, value in table.items():
            if name in _ROW_KEYS:
                continue
            if name in _TABLES:
                yield from self.table(name, value, keys)
            elif name in keys:
                yield from self.entry(name, (name,), value)
            else:
                known = [*(key for key in keys if "." not in key), *_TABLES, *_ROW_KEYS]
                self.unknown((name,), name, known)

    def table(self, name: str, value: Any, keys: set[str]) -> Iterator[tuple[str, Cell]]:
        if not isinstance(value, dict):
            self.wrong((name,), _said(value), f"a table [{name}]")
            return
        for key, inner in value.items():
            if f"{name}.{key}" in keys:
                yield from self.entry(f"{name}.{key}", (name, key), inner)
            else:
                known = [k.partition(".")[2] for k in keys if k.startswith(f"{name}.")]
                self.unknown((name, key), key, known)

    def entry(self, key: str, path: KeyPath, value: Any) -> Iterator[tuple[str, Cell]]:
        if key == "work.bases" and isinstance(value, list):
            if not all(isinstance(item, str) for item in value):
                self.wrong(path, _said(value), "a list of keys in quotes")
                return
            value = "; ".join(value)
        if _scalar(value):
            yield key, Cell(value, self.place(path))
        else:
            self.wrong(path, _said(value), "one value")

    def unknown(self, path: KeyPath, name: str, known: list[str]) -> None:
        expected = "one of: " + ", ".join(sorted(known))
        self.wrong(path, f"an unknown key {shortened(name)}", expected, nearest(name, known))

    def rows(self, table: Mapping[str, Any]) -> Iterator[RawRow]:
        kinds: tuple[Literal["reading", "look"], ...] = ("reading", "look")
        for kind in kinds:
            entries = table.get(kind, [])
            if not isinstance(entries, list):
                self.wrong((kind,), _said(entries), f"[[{kind}]], with two brackets, for each")
                continue
            if len(entries) > MAX_ROWS:
                raise too_many_rows(self.place((kind,)))
            for number, entry in enumerate(entries):
                path: KeyPath = (kind, number)
                if isinstance(entry, dict):
                    yield self.row(kind, path, entry)
                else:
                    self.wrong(path, _said(entry), f"a table [[{kind}]]")

    def row(
        self, kind: Literal["reading", "look"], path: KeyPath, entry: Mapping[str, Any]
    ) -> RawRow:
        cells: dict[str, Cell] = {}
        values: list[Cell] = []
        for key, value in entry.items():
            at = (*path, key)
            if key not in _ROW_KEYS[kind]:
                self.unknown(at, key, list(_ROW_KEYS[kind]))
            elif key in ("value", "values"):
                values += self.values(at, value)
            elif _scalar(value):
                cells[key] = Cell(value, self.place(at))
            else:
                self.wrong(at, _said(value), "one value")
        return RawRow(place=self.place(path), kind=kind, cells=cells, values=tuple(values))

    def values(self, path: KeyPath, value: Any) -> Iterator[Cell]:
        for item in value if isinstance(value, list) else [value]:
            if _scalar(item):
                yield Cell(item, self.place(path))
            else:
                self.wrong(path, _said(item), "a figure, or a list of figures")


def _scalar(value: Any) -> bool:
    return isinstance(value, Scalar) and not isinstance(value, datetime.time)


def _said(value: Any) -> str:
    names = {dict: "a table", list: "a list", datetime.time: "a time of day"}
    return names.get(type(value)) or shortened(str(value))
