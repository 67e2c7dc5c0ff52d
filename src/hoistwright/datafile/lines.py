"""At which line of a TOML text a key stands (the standard parser does not say)."""

from __future__ import annotations

import re

KeyPath = tuple[str | int, ...]

_HEADER = re.compile(r"^\s*(\[\[?)([^\[\]]+)\]\]?\s*(#.*)?$")
_KEY = re.compile(
    r"^\s*((?:[\w-]+|\"[^\"]*\"|'[^']*')(?:\s*\.\s*(?:[\w-]+|\"[^\"]*\"|'[^']*'))*)\s*="
)
_PART = re.compile(r"[\w-]+|\"[^\"]*\"|'[^']*'")


def line_of(text: str, path: KeyPath) -> int | None:
    """The line of `path`, or of the nearest enclosing key that is written; None without text."""
    if not text:
        return None
    index = _index(text)
    for length in range(len(path), 0, -1):
        line = index.get(path[:length])
        if line is not None:
            return line
    return None


def line_index(text: str) -> dict[KeyPath, int]:
    """The line of every key that is written; for readers that ask for many."""
    return _index(text)


def _index(text: str) -> dict[KeyPath, int]:
    lines: dict[KeyPath, int] = {}
    counts: dict[KeyPath, int] = {}
    table: KeyPath = ()
    for number, line in enumerate(text.splitlines(), start=1):
        header = _HEADER.match(line)
        if header:
            table = _resolve(_names(header[2]), counts, grows=header[1] == "[[")
            lines.setdefault(table, number)
            continue
        key = _KEY.match(line)
        if key:
            lines.setdefault((*table, *_names(key[1])), number)
    return lines


def _names(dotted: str) -> tuple[str, ...]:
    return tuple(part.strip("\"'") for part in _PART.findall(dotted))


def _resolve(names: tuple[str, ...], counts: dict[KeyPath, int], *, grows: bool) -> KeyPath:
    """The path of a header, with the index of the current element of each array of tables."""
    path: KeyPath = ()
    for place, name in enumerate(names):
        path = (*path, name)
        last = place == len(names) - 1
        if last and grows:
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = (*path, counts[path])
    return path
