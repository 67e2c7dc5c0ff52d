"""From a converter's error to faults that name the key and its line."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import attrs
from cattrs.errors import (
    BaseValidationError,
    ClassValidationError,
    ForbiddenExtraKeysError,
    IterableValidationError,
)

from hoistwright.datafile.lines import KeyPath, line_of
from hoistwright.datafile.structure import WrongValueError
from hoistwright.datafile.words import expected_text
from hoistwright.faults import Fault, Place


def faults_of(error: BaseException, cls: Any, *, file: str, text: str) -> list[Fault]:
    """Every leaf of `error` (raised while structuring a `cls`) as a fault with its place."""
    return [
        Fault(
            Place(file=file, line=line_of(text, path), key=dotted(path)),
            read,
            expected,
            mend,
        )
        for path, read, expected, mend in _leaves(error, (), cls)
    ]


def dotted(path: KeyPath) -> str:
    """`('hooks', 0, 'throat')` as `hooks[1].throat` (people count from 1)."""
    out = ""
    for step in path:
        out += f"[{step + 1}]" if isinstance(step, int) else (f".{step}" if out else step)
    return out


Leaf = tuple[KeyPath, str, str, str]


def _leaves(error: BaseException, path: KeyPath, kind: Any) -> Iterator[Leaf]:
    if isinstance(error, ClassValidationError):
        noted, plain = error.group_exceptions()
        for inner, note in noted:
            yield from _leaves(inner, (*path, note.name), note.type)
        for inner in plain:
            yield from _leaves(inner, path, error.cl)
    elif isinstance(error, IterableValidationError):
        noted_items, plain_items = error.group_exceptions()
        for inner, place in noted_items:
            yield from _leaves(inner, (*path, place.index), place.type)
        for inner in plain_items:
            yield from _leaves(inner, path, kind)
    elif isinstance(error, BaseValidationError):
        for inner in error.exceptions:
            yield from _leaves(inner, path, kind)
    else:
        yield from _leaf(error, path, kind)


def _leaf(error: BaseException, path: KeyPath, kind: Any) -> Iterator[Leaf]:
    if isinstance(error, ForbiddenExtraKeysError):
        allowed = ", ".join(sorted(field.name for field in attrs.fields(error.cl)))
        for name in sorted(error.extra_fields):
            yield (*path, name), f"an unknown key {name!r}", f"one of: {allowed}", ""
    elif isinstance(error, KeyError):
        yield path, "nothing", f"this key: {expected_text(kind)}", ""
    elif isinstance(error, WrongValueError):
        yield path, error.read, error.expected, error.mend
    else:
        yield path, _said(error), expected_text(kind), ""


def _said(error: BaseException) -> str:
    return str(error) or type(error).__name__
