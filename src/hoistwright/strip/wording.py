"""Texts of the take-apart graph that take a figure from the design: "set back {set_back}"."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from fractions import Fraction

from hoistwright.hoist.design import Design
from hoistwright.quantity import Dimension, show

NOT_KNOWN = "not established: ask the maker"

_BLANK = re.compile(r"\{([^{}]*)\}")
_TOOLS = re.compile(r"\s*[,;]\s*")
_WORDS = {
    Fraction(1, 2): "half a turn",
    Fraction(1, 4): "a quarter of a turn",
    Fraction(3, 4): "three quarters of a turn",
    Fraction(1): "one turn",
}


def known_blanks() -> tuple[str, ...]:
    """The blanks that a text may hold."""
    return tuple(_FILLERS)


def blanks(text: str) -> tuple[str, ...]:
    """The blanks that stand in `text`.

    >>> blanks("Set the lock nut back {set_back}.")
    ('set_back',)
    """
    return tuple(_BLANK.findall(text))


def filled(text: str, design: Design) -> str:
    """`text` with its blanks filled from the design; what it does not say is said to be open."""
    return _BLANK.sub(
        lambda found: _FILLERS[found[1]](design) or f"[{found[1].replace('_', ' ')} {NOT_KNOWN}]",
        text,
    )


def turns(value: float) -> str:
    """A part of a turn in words.

    >>> turns(0.5), turns(1 / 3)
    ('half a turn', '1/3 of a turn')
    """
    part = Fraction(value).limit_denominator(12)
    return _WORDS.get(part, f"{part} turns" if part > 1 else f"{part} of a turn")


def times(count: int) -> str:
    """How often, in words.

    >>> times(1), times(2), times(3)
    ('once', 'twice', '3 times')
    """
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def single_tools(tools: Iterable[str]) -> tuple[str, ...]:
    """Each tool once, in the order in which it is first wanted.

    >>> single_tools(["pin punch, spanner", "", "press; ring pliers", "spanner"])
    ('pin punch', 'spanner', 'press', 'ring pliers')
    """
    return tuple(dict.fromkeys(tool for text in tools for tool in _TOOLS.split(text) if tool))


def _set_back(design: Design) -> str:
    value = design.load_brake.set_back_turns
    return "" if value is None else turns(value)


def _falls(design: Design) -> str:
    count = design.rating.falls
    return "" if count is None else f"{count} fall{'s' if count != 1 else ''}"


def _layshafts(design: Design) -> str:
    return _all_of(design.gear_train.layshafts, "layshaft")


def _pawls(design: Design) -> str:
    return _all_of(design.load_brake.pawls, "pawl")


def _all_of(count: int | None, noun: str) -> str:
    if count is None:
        return ""
    return {1: f"the {noun}", 2: f"both {noun}s"}.get(count, f"all {count} {noun}s")


def _rated_load(design: Design) -> str:
    load = design.rating.rated_load
    return "" if load is None else show(load, Dimension.MASS, "t")


_FILLERS: dict[str, Callable[[Design], str]] = {
    "set_back": _set_back,
    "falls": _falls,
    "layshafts": _layshafts,
    "pawls": _pawls,
    "rated_load": _rated_load,
}
