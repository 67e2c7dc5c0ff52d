"""The test sequence of a job: steps, cautions, what to record, hold points."""

from __future__ import annotations

import functools
from importlib import resources
from typing import Literal

import attrs

from hoistwright.datafile import load_text
from hoistwright.hoist.design import Design, Kind
from hoistwright.prove.criteria import proof_criteria
from hoistwright.prove.tests_needed import NeededTests
from hoistwright.quantity import Dimension, in_unit, show

Need = Literal["test load", "no test load", "light load", "limiter", "falls"]
Record = Literal[
    "remarks", "free play", "pull light", "hold", "creep", "load", "clicks", "pawls heard",
    "hand path", "strokes", "pull up", "pull series", "pull down", "stop drop", "cover temperature",
    "slip load",
]  # fmt: skip
Units = Literal["mm", "in"]
NOT_STATED = "(not stated)"


@attrs.frozen(kw_only=True)
class ProofStep:
    """One step. `hold_point`: a named person signs before the next step begins.

    `look` is the key of its question, to be answered with yes; `record` what is written down.
    """

    key: str
    name: str
    do: str
    caution: str = ""
    record: tuple[Record, ...] = ()
    look: str = ""
    question: str = ""
    if_not: str = ""
    hold_point: bool = False
    for_kinds: tuple[Kind, ...] = ()
    needs: tuple[Need, ...] = ()
    source: str = "practice"


@attrs.frozen(kw_only=True)
class _File:
    """The whole file."""

    step: tuple[ProofStep, ...]


@functools.cache
def all_steps() -> tuple[ProofStep, ...]:
    """Every step there is, with its blanks."""
    file = resources.files("hoistwright.prove") / "sequence.toml"
    return load_text(file.read_text(encoding="utf-8"), _File, file=file.name).step


def proof_sequence(
    design: Design, needed: NeededTests, *, load: float | None = None, units: Units = "mm"
) -> tuple[ProofStep, ...]:
    """The steps that prove this hoist, in order, with its own figures filled in.

    Args:
        design: the hoist.
        needed: the tests that the job needs; the light load is that of its brake test.
        load: test load, kg; None: by the band of `needed`.
        units: "mm" writes loads in kilograms and heights in metres, "in" in pounds and feet.

    Returns:
        The steps. A figure that nobody states stands as "(not stated)".

    Raises:
        ValueError: a load that is not above 0.

    >>> from hoistwright.basis.loading import shipped_basis
    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.prove.tests_needed import Done, needed_tests
    >>> needed = needed_tests([Done(part="pawl", role="pawl")],
    ...                       [shipped_basis("b30-hand-hoists").head], "hand chain hoist")
    >>> steps = proof_sequence(shipped("ardle-500"), needed, load=600)
    >>> next(step for step in steps if step.key == "lift_a_little").do
    'Hang 600 kg. Raise it until it is just clear of the floor, stop, take the hand away.'

    References:
        common practice of hoist workshops; maker's manual first.
    """
    if load is not None and not load > 0:
        raise ValueError(f"load: given {load} kg; expected the test load, above 0.")
    has, blanks = _has(design, needed), _blanks(design, needed, load, units)
    kind = design.identity.kind
    return tuple(
        attrs.evolve(step, do=step.do.format_map(blanks))
        for step in all_steps()
        if (not step.for_kinds or kind in step.for_kinds) and has.issuperset(step.needs)
    )


def hold_points(steps: tuple[ProofStep, ...]) -> tuple[str, ...]:
    """Keys of the steps that need a name before the next one begins."""
    return tuple(step.key for step in steps if step.hold_point)


def _has(design: Design, needed: NeededTests) -> set[Need]:
    has: set[Need] = {"no test load" if needed.extent == "functional only" else "test load"}
    if _light_share(needed) is not None:
        has.add("light load")
    if design.overload_limiter is not None:
        has.add("limiter")
    if (design.rating.falls or 1) > 1:
        has.add("falls")
    return has


def _light_share(needed: NeededTests) -> float | None:
    """The load of the light-load brake test, as a share of the rated load."""
    shares = [test.load_from for test in needed.needed if test.kind == "brake test"]
    return next((share for share in shares if share is not None), None)


def _blanks(
    design: Design, needed: NeededTests, load: float | None, units: Units
) -> dict[str, str]:
    rated, lift = design.rating.rated_load, design.rating.lift
    share = _light_share(needed)
    light = None if rated is None or share is None else rated * share
    limiter = design.overload_limiter
    seconds = needed.hold or float(proof_criteria().hold.least)
    return {
        "load": _load(rated, needed, load, units),
        "light": "a light load" if light is None else _mass(light, units),
        "hold": show(seconds, Dimension.TIME, "min"),
        "lift": NOT_STATED if lift is None else _height(lift, units),
        "heights": _heights(lift, units),
        "pawls": str(design.load_brake.pawls or NOT_STATED),
        "slip_low": _times(rated, None if limiter is None else limiter.slip_low, units),
        "slip_high": _times(rated, None if limiter is None else limiter.slip_high, units),
    }


def _mass(value: float, units: Units) -> str:
    if units == "in":
        return f"{in_unit(value, Dimension.MASS, 'lb'):.0f} lb"
    return show(value, Dimension.MASS, "kg")


def _height(value: float, units: Units) -> str:
    if units == "in":
        return f"{in_unit(value, Dimension.LENGTH, 'ft'):.1f} ft"
    return show(value, Dimension.LENGTH, "m")


def _load(rated: float | None, needed: NeededTests, load: float | None, units: Units) -> str:
    if load is not None:
        return _mass(load, units)
    if rated is None or needed.band is None:
        return "the test load"
    low, high = needed.band
    return f"{_mass(rated * low, units)} to {_mass(rated * high, units)}"


def _times(rated: float | None, share: float | None, units: Units) -> str:
    return NOT_STATED if rated is None or share is None else _mass(rated * share, units)


def _heights(lift: float | None, units: Units) -> str:
    if lift is None:
        return "three heights"
    return ", ".join(_height(lift * part, units) for part in (0.75, 0.5, 0.25))
