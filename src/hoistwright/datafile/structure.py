"""How plain TOML values become typed ones: quantities with units, dates, closed word lists."""

from __future__ import annotations

import datetime
import functools
import math
import typing
from typing import Any

import cattrs
from cattrs.gen import make_dict_structure_fn

from hoistwright.datafile.words import expected_text
from hoistwright.quantity import Dimension, Measure, QuantityError, parse


class WrongValueError(ValueError):
    """A value that cannot stand at its key; says what may."""

    def __init__(self, read: str, expected: str, mend: str = "") -> None:
        super().__init__(f"read {read}; expected {expected}")
        self.read, self.expected, self.mend = read, expected, mend


@functools.cache
def converter() -> cattrs.Converter:
    """The one converter: strict (no unknown keys, no silent coercion), all errors at once."""
    conv = cattrs.Converter(detailed_validation=True, forbid_extra_keys=True)
    for kind in Measure.__subclasses__():
        conv.register_structure_hook(kind, _quantity)
    conv.register_structure_hook(str, _string)
    conv.register_structure_hook(bool, _boolean)
    conv.register_structure_hook(int, _whole)
    conv.register_structure_hook(float, _number)
    conv.register_structure_hook(datetime.date, _date)
    conv.register_structure_hook(datetime.datetime, _moment)
    conv.register_structure_hook_factory(_is_tuple_of_any_length, _tuple_hook)
    conv.register_structure_hook_factory(_is_literal, _literal_hook)
    conv.register_structure_hook_factory(
        lambda cls: hasattr(cls, "__attrs_attrs__"),
        lambda cls: _table_hook(cls, conv),
    )
    return conv


def _table_hook(cls: type[Any], conv: cattrs.Converter) -> Any:
    inner = make_dict_structure_fn(cls, conv, _cattrs_forbid_extra_keys=True)

    def hook(value: Any, kind: Any) -> Any:
        if not isinstance(value, dict):
            raise WrongValueError(repr(value), "a table of keys and values")
        return inner(value, kind)

    return hook


def _is_tuple_of_any_length(cls: Any) -> bool:
    return getattr(cls, "__origin__", None) is tuple and cls.__args__[-1] is Ellipsis


def _tuple_hook(cls: Any, conv: cattrs.Converter) -> Any:
    item = cls.__args__[0]

    def hook(value: Any, _kind: Any) -> Any:
        if not isinstance(value, list | tuple):
            raise WrongValueError(repr(value), "a list")
        return tuple(conv.structure(value, list[item]))  # type: ignore[valid-type]

    return hook


_NEVER_NEGATIVE = (
    Dimension.LENGTH,
    Dimension.MASS,
    Dimension.FORCE,
    Dimension.STRESS,
    Dimension.TORQUE,
    Dimension.TIME,
)
"""What no part, gauge or step can have less than nothing of."""


def _is_literal(cls: Any) -> bool:
    return typing.get_origin(cls) is typing.Literal


def _literal_hook(cls: Any) -> Any:
    words = typing.get_args(cls)

    def hook(value: Any, _kind: Any) -> Any:
        if not isinstance(value, str) or value not in words:
            raise WrongValueError(repr(value), expected_text(cls))
        return value

    return hook


def _quantity(value: Any, kind: Any) -> Any:
    if kind.dimension.dimensionless and not isinstance(value, str):
        return kind(_number(value, float))
    if not isinstance(value, str):
        raise WrongValueError(repr(value), f"{expected_text(kind)}, in quotes")
    try:
        si = parse(value, kind.dimension, decimal=".").si
    except QuantityError as error:
        raise WrongValueError(error.read, error.expected, error.mend) from None
    if si < 0 and kind.dimension in _NEVER_NEGATIVE:
        raise WrongValueError(repr(value), f"{expected_text(kind)}, zero or more")
    return kind(si)


def _string(value: Any, _kind: Any) -> str:
    if not isinstance(value, str):
        raise WrongValueError(repr(value), "text in quotes")
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
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise WrongValueError(repr(value), "a finite number")
    return float(value)


def _date(value: Any, _kind: Any) -> datetime.date:
    if isinstance(value, datetime.datetime) or not isinstance(value, datetime.date):
        raise WrongValueError(repr(value), "a date like 2026-11-25, without quotes")
    return value


def _moment(value: Any, _kind: Any) -> datetime.datetime:
    if not isinstance(value, datetime.datetime):
        raise WrongValueError(repr(value), "a date and time like 2026-11-25T09:30:00Z")
    return value
