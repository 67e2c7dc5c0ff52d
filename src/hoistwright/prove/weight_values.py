"""Test weights, tackle, the permitted load, and what was chosen, as plain values in SI."""

from __future__ import annotations

import datetime
import math
from typing import Any, Literal

import attrs

from hoistwright.metrology import Outcome

Sharing = Literal["one standard", "independent"]
"""Whether the weights' uncertainties come from one standard (and add), or are independent."""


def _positive(instance: Any, attribute: attrs.Attribute[Any], value: float) -> None:
    if not (math.isfinite(value) and value > 0):
        raise ValueError(f"{_what(instance, attribute)}: given {value}; expected a mass above 0.")


def _not_negative(instance: Any, attribute: attrs.Attribute[Any], value: float) -> None:
    if not (math.isfinite(value) and value >= 0):
        raise ValueError(f"{_what(instance, attribute)}: given {value}; expected 0 or more.")


def _what(instance: Any, attribute: attrs.Attribute[Any]) -> str:
    return f"{getattr(instance, 'key', type(instance).__name__)}, {attribute.name}"


@attrs.frozen(kw_only=True)
class Weight:
    """Marked weights of one mass. `mass` and standard uncertainty `u` of one piece, kg."""

    key: str
    mass: float = attrs.field(validator=_positive)
    u: float = attrs.field(validator=_not_negative)
    count: int = attrs.field(default=1, validator=_not_negative)
    due_on: datetime.date | None = None


@attrs.frozen(kw_only=True)
class Tackle:
    """What hangs between hook and weights: slings, frame, shackles. kg."""

    mass: float = attrs.field(default=0.0, validator=_not_negative)
    u: float = attrs.field(default=0.0, validator=_not_negative)


@attrs.frozen(kw_only=True)
class Permitted:
    """The load that may be applied, kg: from `low` to `high`, best at `target`.

    `near` is how far from the target is as good as on it: within it, fewer handlings win.
    """

    low: float = attrs.field(validator=_positive)
    high: float = attrs.field(validator=_positive)
    target: float = attrs.field(validator=_positive)
    near: float = attrs.field(default=0.0, validator=_not_negative)

    def __attrs_post_init__(self) -> None:
        """Refuse a band that is upside down, or a target outside it."""
        if not self.low <= self.target <= self.high:
            raise ValueError(
                f"permitted load: given {self.low:g} to {self.high:g} kg with target "
                f"{self.target:g} kg; expected low ≤ target ≤ high."
            )


@attrs.frozen(kw_only=True)
class Place:
    """Where the test is done; None: no limit known or wanted. kg.

    `floor` is what the floor carries with weights and tackle standing on it, `bed` what frame
    or beam above carries, `piece` the heaviest piece that can be handled.
    """

    floor: float | None = None
    bed: float | None = None
    piece: float | None = None


@attrs.frozen(kw_only=True)
class Taken:
    """So many pieces of one weight."""

    key: str
    count: int
    mass: float


@attrs.frozen(kw_only=True)
class Choice:
    """What to hang on the hook, or how near one comes. Masses in kg.

    outcome: fit, if the load with its guard band lies within the permitted one; borderline, if
    the load lies inside but its guard band does not; not established, if nothing serves.
    """

    outcome: Outcome
    load: float
    u: float
    guard: float
    low: float
    high: float
    target: float
    taken: tuple[Taken, ...]
    tackle: Tackle
    left_out: tuple[tuple[str, str], ...]
    """Keys of weights that may not be used, with the reason."""
    why: str

    @property
    def expanded(self) -> float:
        """U = 2 u."""
        return 2 * self.u

    @property
    def handlings(self) -> int:
        return sum(one.count for one in self.taken)
