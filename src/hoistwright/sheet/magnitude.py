"""Is a reading of a size that this feature can have? A wrong unit or a slipped decimal is not."""

from __future__ import annotations

import math

import attrs

from hoistwright.quantity import Dimension, Quantity, in_unit, show, units_of

FACTOR = 3.0
"""A reading may be a third to three times as new: wear and damage stay inside, 25.4 does not."""

_NEAR = 1.3  # what a mended reading may be off as new to be suggested

_MOST: dict[Dimension, float] = {
    Dimension.LENGTH: 10.0,
    Dimension.ANGLE: math.pi / 2,
    Dimension.FORCE: 1e6,
    Dimension.NUMBER: 1e6,
}
"""SI; where no as-new value is known (or it is zero), nothing on a hoist measures more."""

_MISTAKEN = ("mm", "in", "cm", "thou")


@attrs.frozen
class Usual:
    """About how large a reading is, SI: as new, else by its limit. `smaller`: far less will do,
    as of a clearance that grows from nothing.
    """

    value: float
    by_limit: bool = False
    smaller: bool = False


@attrs.frozen
class Doubt:
    """Why a reading is asked back: what was expected, and what it may have been meant as."""

    expected: str
    mend: str


def doubt(found: Quantity, usual: Usual | None, unit: str) -> Doubt | None:
    """What speaks against a reading, or None. `unit` is the one to show the usual size in."""
    if found.si < 0:
        return Doubt("a figure of zero or more", "A reading has no sign.")
    if usual is None or usual.value <= 0:
        return _beyond_all(found)
    least = 0.0 if usual.smaller else usual.value / FACTOR
    if least <= found.si <= usual.value * FACTOR:
        return None
    return Doubt(
        _expected(usual, show(usual.value, found.dimension, unit)),
        f"{_question(found, usual.value)}{_confirm(found)}",
    )


def _expected(usual: Usual, shown: str) -> str:
    if not usual.by_limit:
        return f"a reading between a third and three times the as-new {shown}"
    if usual.smaller:
        return f"a reading of at most three times the limit {shown}"
    return f"a reading between a third and three times the limit {shown}"


def _beyond_all(found: Quantity) -> Doubt | None:
    most = _MOST.get(found.dimension, math.inf)
    if found.si <= most:
        return None
    return Doubt(f"at most {show(most, found.dimension, found.unit)}", "Is the unit right?")


def _question(found: Quantity, usual: float) -> str:
    """Which reading may have been meant, as a question."""
    offers = meant(found, usual)
    return f"Did you mean {' or '.join(offers)}? " if offers else ""


def meant(found: Quantity, usual: float) -> tuple[str, ...]:
    """Readings that may have been meant, by another unit or by a decimal mark that slipped.

    Each is written so that it can be typed: "24.9 mm" for 24.9 in where 25 mm is as new.
    """
    figure = in_unit(found.si, found.dimension, found.unit)
    offers = [
        f"{_plain(figure)} {unit.symbol}"
        for unit in units_of(found.dimension)
        if unit.symbol in _MISTAKEN
        and unit.symbol != found.unit
        and _close(figure * float(unit.factor), usual)
    ]
    offers += [
        f"{_plain(figure * 10.0**power)} {found.unit}"
        for power in (-3, -2, -1, 1, 2, 3)
        if _close(found.si * 10.0**power, usual)
    ]
    return tuple(offers)


def _close(si: float, usual: float) -> bool:
    return usual / _NEAR <= si <= usual * _NEAR


def _plain(figure: float) -> str:
    return f"{figure:.10g}" if 1e-4 <= abs(figure) < 1e10 else "a figure"


def _confirm(found: Quantity) -> str:
    text = found.text if any(sign.isalpha() for sign in found.text) else ""
    text = text or f"{found.text} {found.unit}"
    return f"If it really is so, measure again and write '{text}!'."
