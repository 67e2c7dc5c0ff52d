"""Events as canonical JSON and back: one text for one content, on any machine.

Keys sorted, no spaces, UTF-8 as it is, numbers as Python writes them (the shortest figure that
reads back the same), no NaN.
"""

from __future__ import annotations

import datetime
import functools
import json
import math
import typing
from typing import Any

import attrs
import cattrs
from cattrs.gen import make_dict_structure_fn

from hoistwright.datafile.explain import faults_of
from hoistwright.datafile.structure import WrongValueError
from hoistwright.datafile.words import expected_text
from hoistwright.faults import FaultsError
from hoistwright.job.events import KINDS, Body

MOST_TEXT = 10_000
"""Characters in one text of an event."""


def canonical(value: Any) -> str:
    """The canonical JSON of plain values. Raises ValueError for what no journal can hold."""
    _check(value)
    return json.dumps(
        value, sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False
    )


def plain(value: Any) -> Any:
    """`value` (attrs classes, dates, tuples) as what JSON knows."""
    if isinstance(value, str | int | float | None):
        return value
    if isinstance(value, tuple | list):
        return [plain(item) for item in value]
    if isinstance(value, datetime.datetime):
        return moment_text(value)
    if isinstance(value, datetime.date):
        return value.isoformat()
    return {name: _field(getattr(value, name)) for name in _names(type(value))}


def body_of(kind: str, table: Any, *, place: str = "") -> Body:
    """The body of an event of this kind. Raises FaultsError with every fault found."""
    cls = KINDS.get(kind)
    if cls is None:
        raise ValueError(f"an event of kind {kind!r}; expected one of: {', '.join(KINDS)}")
    try:
        return _converter().structure(table, cls)
    except Exception as error:
        raise FaultsError(faults_of(error, cls, file=place, text="")) from None


def moment_text(moment: datetime.datetime) -> str:
    """A moment to the microsecond with its offset; `Z` for UTC.

    >>> moment_text(datetime.datetime(2026, 11, 25, 9, 30, tzinfo=datetime.UTC))
    '2026-11-25T09:30:00.000000Z'
    """
    if moment.tzinfo is None:
        raise ValueError(f"the time {moment} without an offset; expected one like 09:30Z")
    text = moment.isoformat(timespec="microseconds")
    return text.removesuffix("+00:00") + "Z" if text.endswith("+00:00") else text


def moment_of(text: str) -> datetime.datetime:
    """The moment written by `moment_text`."""
    return datetime.datetime.fromisoformat(text)


def _names(cls: Any) -> tuple[str, ...]:
    if cls not in _FIELDS:
        _FIELDS[cls] = tuple(field.name for field in attrs.fields(cls))
    return _FIELDS[cls]


_FIELDS: dict[Any, tuple[str, ...]] = {}


def _field(value: Any) -> Any:
    """A body inside a body (the replacement of a correction) says its kind."""
    if isinstance(value, Body):
        return {"kind": value.kind, "body": plain(value)}
    return plain(value)


def _check(value: Any) -> None:
    if isinstance(value, str):
        _check_text(value)
    elif isinstance(value, float):
        if not math.isfinite(value):
            raise ValueError(f"the number {value}; expected a finite one")
    elif isinstance(value, dict):
        for item in value.values():
            _check(item)
    elif isinstance(value, list):
        for item in value:
            _check(item)


def _check_text(text: str) -> None:
    if len(text) > MOST_TEXT:
        raise ValueError(f"a text of {len(text)} characters; expected {MOST_TEXT} at most")
    if text.isascii() and text.isprintable():
        return
    wrong = next((c for c in text if (c < " " and c not in "\n\t\r") or _half(c)), "")
    if wrong:
        raise ValueError(
            f"a text with the character U+{ord(wrong):04X}, which is no writing; type it again"
        )


def _half(character: str) -> bool:
    """Half of a surrogate pair: no character by itself."""
    return "\ud800" <= character <= "\udfff"


# from JSON


@functools.cache
def _converter() -> cattrs.Converter:
    conv = cattrs.Converter(detailed_validation=True, forbid_extra_keys=True)
    for kind, hook in _HOOKS.items():
        conv.register_structure_hook(kind, hook)
    conv.register_structure_hook_func(lambda cls: cls is Body, _inner_body)
    conv.register_structure_hook_factory(_is_literal, _literal_hook)
    conv.register_structure_hook_factory(
        lambda cls: attrs.has(cls) and cls is not Body, lambda cls: _table_hook(cls, conv)
    )
    return conv


def _table_hook(cls: type[Any], conv: cattrs.Converter) -> Any:
    inner = make_dict_structure_fn(cls, conv, _cattrs_forbid_extra_keys=True)

    def hook(value: Any, kind: Any) -> Any:
        if not isinstance(value, dict):
            raise WrongValueError(repr(value), "a table of keys and values")
        return inner(value, kind)

    return hook


def _inner_body(value: Any, _kind: Any) -> Body:
    if not isinstance(value, dict) or set(value) != {"kind", "body"}:
        raise WrongValueError(repr(value), "a kind and a body")
    cls = KINDS.get(value["kind"])
    if cls is None:
        raise WrongValueError(repr(value["kind"]), "one of: " + ", ".join(KINDS))
    return _converter().structure(value["body"], cls)


def _is_literal(cls: Any) -> bool:
    return typing.get_origin(cls) is typing.Literal


def _literal_hook(cls: Any) -> Any:
    words = typing.get_args(cls)

    def hook(value: Any, _kind: Any) -> Any:
        if value not in words:
            raise WrongValueError(repr(value), expected_text(cls))
        return value

    return hook


def _string(value: Any, _kind: Any) -> str:
    if not isinstance(value, str):
        raise WrongValueError(repr(value), "a text")
    return value


def _boolean(value: Any, _kind: Any) -> bool:
    if not isinstance(value, bool):
        raise WrongValueError(repr(value), "true or false")
    return value


def _whole(value: Any, _kind: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or abs(value) > 10**9:
        raise WrongValueError(repr(value), "a whole number")
    return value


def _number(value: Any, _kind: Any) -> float:
    known = isinstance(value, int | float) and not isinstance(value, bool)
    if not known or abs(value) > 1e300 or not math.isfinite(value):
        raise WrongValueError(repr(value), "a finite number")
    return float(value)


def _date(value: Any, _kind: Any) -> datetime.date:
    try:
        return datetime.date.fromisoformat(value)
    except (TypeError, ValueError):
        raise WrongValueError(repr(value), "a date like 2026-11-25") from None


_HOOKS: dict[Any, Any] = {
    str: _string,
    bool: _boolean,
    int: _whole,
    float: _number,
    datetime.date: _date,
}
