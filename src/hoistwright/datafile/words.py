"""What may stand at a key, in words."""

from __future__ import annotations

import datetime
import types
import typing
from typing import Any

from hoistwright.quantity import Dimension, Measure

EXAMPLES = {
    Dimension.LENGTH: "8 mm",
    Dimension.MASS: "2 t",
    Dimension.FORCE: "250 N",
    Dimension.ANGLE: "10°",
    Dimension.RATIO: "2.5 %",
    Dimension.TORQUE: "25 N m",
    Dimension.STRESS: "200 MPa",
    Dimension.TIME: "2 min",
    Dimension.TEMPERATURE: "20 °C",
    Dimension.TEMPERATURE_DIFFERENCE: "5 K",
}

_WORDS: dict[Any, str] = {
    str: "text in quotes",
    int: "a whole number",
    float: "a number",
    bool: "true or false",
    datetime.date: "a date like 2026-11-25, without quotes",
    datetime.datetime: "a date and time like 2026-11-25T09:30:00Z",
}


def expected_text(kind: Any) -> str:
    """What may stand at a key of type `kind`."""
    origin = typing.get_origin(kind)
    if origin is typing.Literal:
        return "one of: " + ", ".join(f'"{word}"' for word in typing.get_args(kind))
    if origin in (typing.Union, types.UnionType):
        return expected_text(next(a for a in typing.get_args(kind) if a is not type(None)))
    if origin is tuple:
        return f"a list of {expected_text(typing.get_args(kind)[0])}"
    if isinstance(kind, type) and issubclass(kind, Measure):
        article = "an" if kind.dimension is Dimension.ANGLE else "a"
        return f'{article} {kind.dimension.value} with its unit, like "{EXAMPLES[kind.dimension]}"'
    return _WORDS.get(kind, "a table of keys and values")
