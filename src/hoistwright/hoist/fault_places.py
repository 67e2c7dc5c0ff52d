"""Where a fault of a merged design stands: in the design's own file, or in its family.

A merged table has no text of its own, so the converter can only count: `hooks[2].depth`.
Here that becomes `hooks[bottom_hook].depth` with the line in the design's own file, if the
key or its entry is written there.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import attrs

from hoistwright.datafile.lines import KeyPath, line_of
from hoistwright.faults import Fault

_STEP = re.compile(r"([^.\[\]]+)|\[(\d+)\]")


def placed(fault: Fault, merged: Mapping[str, Any], own: Mapping[str, Any], text: str) -> Fault:
    """`fault` with entries of lists named, and its line in the design's own `text` if there."""
    if fault.place.line is not None or not fault.place.key:
        return fault
    path = _path(fault.place.key)
    line = line_of(text, _own_path(path, merged, own))
    key = _readable(path, merged)
    return attrs.evolve(fault, place=attrs.evolve(fault.place, key=key, line=line))


def mentioned(fault: Fault, text: str) -> Fault:
    """A fault of a name that leads nowhere, with the line of the entry that mentions it."""
    found = re.search(r"\[([^\[\]]+)\]", fault.place.key)
    if fault.place.line is not None or found is None:
        return fault
    quoted = f'"{found[1]}"'
    line = next((at for at, row in enumerate(text.splitlines(), 1) if quoted in row), None)
    return attrs.evolve(fault, place=attrs.evolve(fault.place, line=line))


def _path(dotted: str) -> KeyPath:
    """`hooks[2].depth` as ("hooks", 1, "depth")."""
    steps: list[str | int] = []
    for name, number in _STEP.findall(dotted):
        steps.append(name or int(number) - 1)
    return tuple(steps)


def _own_path(path: KeyPath, merged: Mapping[str, Any], own: Mapping[str, Any]) -> KeyPath:
    """The same place with the entry's number in the design's own list; () if it is not there."""
    if len(path) < 2 or not isinstance(path[1], int):
        return path
    head, _, *rest = path
    entry = _entry(merged, str(head), path[1])
    mine = own.get(str(head))
    if not isinstance(mine, list):
        return ()
    for number, item in enumerate(mine):
        if item is entry or (entry_name(item) and entry_name(item) == entry_name(entry)):
            return (head, number, *rest)
    return ()


def _readable(path: KeyPath, merged: Mapping[str, Any]) -> str:
    out = ""
    for place, step in enumerate(path):
        if isinstance(step, int):
            entry = _entry(merged, str(path[0]), step) if place == 1 else None
            out += f"[{entry_name(entry) or _told(entry) or step + 1}]"
        else:
            out += f".{step}" if out else step
    return out


def entry_name(entry: Any) -> str:
    """What an entry of a list goes by: its key, else its part. A limit has no name."""
    if not isinstance(entry, dict) or "comparison" in entry:
        return ""
    name = entry.get("key", entry.get("part", ""))
    return name if isinstance(name, str) else ""


def _told(entry: Any) -> str:
    """A limit is told by its feature."""
    name = entry.get("feature", "") if isinstance(entry, dict) else ""
    return name if isinstance(name, str) else ""


def _entry(table: Mapping[str, Any], head: str, number: int) -> Any:
    entries = table.get(head)
    if isinstance(entries, list) and 0 <= number < len(entries):
        return entries[number]
    return None
