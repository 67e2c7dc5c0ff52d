"""Values that may be unknown, and formulas on them that pass the unknown on."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import attrs
import numpy as np

from hoistwright.hoist.design import Design

BEYOND_ANY_HOIST = 1e15
"""No figure in SI comes near it: a stress of 1 GPa is 1e9."""


@attrs.frozen
class Fact:
    """A value in SI, or why there is none: keys that are missing, or a formula's refusal."""

    value: float | None = None
    lacking: tuple[str, ...] = ()
    refused: str = ""

    @property
    def known(self) -> bool:
        return self.value is not None


def constant(value: float) -> Fact:
    return Fact(float(value))


def stated(design: Design, key: str) -> Fact:
    """What the design states at a dotted key such as "gear_train.pinion_teeth"."""
    table, _, name = key.partition(".")
    return _fact(getattr(getattr(design, table), name, None), key)


def stated_in(entry: object, table: str, name: str) -> Fact:
    """What an entry of a list states, for example the depth of one hook."""
    part = getattr(entry, "part", "")
    return _fact(getattr(entry, name), f"{table}[{part}].{name}")


def stated_or(design: Design, key: str, otherwise: float) -> Fact:
    """As `stated`, with a value that holds where the design says nothing."""
    fact = stated(design, key)
    return fact if fact.known else constant(otherwise)


def derive(formula: Callable[..., Any], *facts: Fact) -> Fact:
    """`formula` on the facts' values; unknown where one of them is, refused where it refuses."""
    lacking = tuple(dict.fromkeys(key for fact in facts for key in fact.lacking))
    refused = next((fact.refused for fact in facts if fact.refused), "")
    if lacking or refused:
        return Fact(lacking=lacking, refused=refused)
    return _worked_out(formula, [fact.value for fact in facts])


def first_known(*facts: Fact) -> Fact:
    """The first fact that has a value; else the first."""
    return next((fact for fact in facts if fact.known), facts[0])


def total(facts: Iterable[Fact]) -> Fact:
    """The sum of the facts."""
    return derive(lambda *values: sum(values), *facts)


def _worked_out(formula: Callable[..., Any], values: list[float | None]) -> Fact:
    try:
        with np.errstate(all="ignore"):
            value = float(formula(*values))
    except (ValueError, ZeroDivisionError, OverflowError) as error:
        return Fact(refused=str(error))
    if not abs(value) < BEYOND_ANY_HOIST:
        return Fact(refused="the stated figures give no value that a hoist can have")
    return Fact(value)


def _fact(value: Any, key: str) -> Fact:
    if value is None:
        return Fact(lacking=(key,))
    if not abs(value) < BEYOND_ANY_HOIST:
        return Fact(refused=f"{key}: given {float(value):g}; expected a value a hoist can have")
    return Fact(float(value))
