"""Design files that build on a family: what a whole family shares is written once.

A design file may say `like = "hand-chain-single-fall"`; the family's table is laid under
it. Tables merge key by key. Lists of tables merge by their `key` or `part`; a table without
either is added. `without = [...]` takes parts and steps of the family away again, and every
mention of them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

Table = dict[str, Any]


def merged(family: Mapping[str, Any], own: Mapping[str, Any]) -> Table:
    """`own` laid over `family`; `like` and `without` are used up."""
    gone = frozenset(name for name in own.get("without", ()) if isinstance(name, str))
    base = {key: _without(value, gone) for key, value in family.items()}
    over = {key: value for key, value in own.items() if key not in ("like", "without")}
    return _tables(base, over)


def not_in_family(family: Mapping[str, Any], names: Sequence[str]) -> list[str]:
    """Those of `names` that no table of the family's lists goes by."""
    lists = [value for value in family.values() if _is_tables(value)]
    there = {item.get(key) for items in lists for item in items for key in ("key", "part")}
    return [name for name in names if name not in there]


def _tables(base: Mapping[str, Any], over: Mapping[str, Any]) -> Table:
    out = dict(base)
    for key, value in over.items():
        out[key] = _value(out[key], value) if key in out else value
    return out


def _value(base: Any, over: Any) -> Any:
    if isinstance(base, dict) and isinstance(over, dict):
        return _tables(base, over)
    if _is_tables(base) and _is_tables(over):
        return _lists(base, over)
    return over


def _lists(base: Sequence[Table], over: Sequence[Table]) -> list[Table]:
    out = list(base)
    places = {_name(item): place for place, item in enumerate(out) if _name(item)}
    for item in over:
        place = places.get(_name(item))
        if place is None:
            out.append(item)
        else:
            out[place] = _tables(out[place], item)
    return out


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(item, dict) for item in value)


def _name(item: Mapping[str, Any]) -> str:
    """What a table of a list goes by. A limit has none: limits add up."""
    if "comparison" in item:
        return ""
    name = item.get("key", item.get("part", ""))
    return name if isinstance(name, str) else ""


def _without(value: Any, gone: frozenset[str]) -> Any:
    """`value` without the tables named in `gone` and without mentions of them."""
    if not gone:
        return value
    if isinstance(value, dict):
        return {key: _without(item, gone) for key, item in value.items()}
    if isinstance(value, list):
        kept = [item for item in value if not _is_gone(item, gone)]
        return [_without(item, gone) for item in kept]
    return value


def _is_gone(item: Any, gone: frozenset[str]) -> bool:
    if isinstance(item, dict):
        return any(
            item.get(key) in gone for key in ("key", "part") if isinstance(item.get(key), str)
        )
    return isinstance(item, str) and item in gone
