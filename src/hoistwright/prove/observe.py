"""From what was recorded to the observables of the diagnosis."""

from __future__ import annotations

import math
from typing import Any

import attrs

from hoistwright.metrology import reading_budget
from hoistwright.prove.machine import Machine
from hoistwright.prove.observables import CREEP_UNIT, Observables, Observed, creep_scale
from hoistwright.prove.record import Hold, ProofRecord, Pull, PullSeries, Readings
from hoistwright.prove.series import series_figures

COUNT_U = 0.5 / math.sqrt(3)
"""A count of clicks begins and ends between two clicks: half a click either way."""
LIGHT = 0.5
"""A pull below half of the test load is the light pull."""


def observables(record: ProofRecord, machine: Machine, load: float) -> Observables:
    """What the record shows of the mechanism.

    Args:
        record: what was recorded.
        machine: the hoist.
        load: the test load that was on the hook, kg.

    Returns:
        The observables; what was not recorded stays None.

    Raises:
        ValueError: a load that is not above 0.

    >>> import datetime
    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.prove.machine import machine_of
    >>> pull = Pull(pull=Readings(readings=(370.0,)), load=2000)
    >>> record = ProofRecord(day=datetime.date(2026, 11, 25), pulls=(pull,))
    >>> seen = observables(record, machine_of(shipped("ardle-2000")), 2000)
    >>> print(f"{seen.pull_up.value:.3f}")
    1.002

    References:
        JCGM 100:2008 (GUM), 5.1.3, from memory.
    """
    if not load > 0:
        raise ValueError(f"load: given {load} kg; expected the test load, above 0.")
    found: dict[str, Any] = {}
    for pull in record.pulls:
        _take(found, *_pull(pull, machine, load))
    for series in record.series:
        _series(found, series, machine, load)
    light = [pull.load for pull in record.pulls if pull.load < LIGHT * load]
    found.update(_brake(record, machine), **_geometry(record, machine))
    found["lifted"] = _lifted(record, found, load)
    return Observables(load=load, light_load=light[-1] if light else 0.0, **found)


def _take(found: dict[str, Any], name: str, value: Observed | None) -> None:
    if value is not None:
        found[name] = value


def _read(readings: Readings) -> Observed | None:
    """Mean and standard uncertainty of readings; without a gauge a twentieth is assumed."""
    if not readings.readings or not math.isfinite(readings.mean):
        return None
    if readings.gauge is None:
        return Observed(value=readings.mean, u=abs(readings.mean) / 20)
    budget = reading_budget(readings.gauge, repeats=readings.readings)
    return Observed(value=readings.mean, u=float(budget.u))


def _over(value: Observed | None, by: float) -> Observed | None:
    return None if value is None else Observed(value=value.value / by, u=value.u / by)


def _pull(pull: Pull, machine: Machine, load: float) -> tuple[str, Observed | None]:
    return _name(pull.load, pull.direction, load), _over(_read(pull.pull), machine.pull_up(load))


def _name(on_hook: float, direction: str, load: float) -> str:
    if direction == "lowering":
        return "pull_down"
    return "pull_light" if on_hook < LIGHT * load else "pull_up"


def _series(found: dict[str, Any], series: PullSeries, machine: Machine, load: float) -> None:
    figures = series_figures(series, machine, 0.0)
    calibration = 0.0
    if series.gauge is not None:
        calibration = float(reading_budget(series.gauge).u)
    u = math.hypot(figures.mean.u, calibration)
    name = _name(series.load, series.direction, load)
    _take(found, name, _over(Observed(value=figures.mean.value, u=u), machine.pull_up(load)))
    if name == "pull_up":
        found.update(figures.ripple)


def _brake(record: ProofRecord, machine: Machine) -> dict[str, Any]:
    found: dict[str, Any] = {}
    if record.hold is not None:
        found["held"] = record.hold.held
        _take(found, "creep", _creep(record.hold))
    if record.free_play is not None:
        _take(found, "free_play", _over(_read(record.free_play), machine.free_play))
    if record.stop_drop is not None:
        _take(found, "stop_drop", _read(record.stop_drop))
    if record.slip is not None:
        _slip(found, record, machine)
    return found


def _slip(found: dict[str, Any], record: ProofRecord, machine: Machine) -> None:
    assert record.slip is not None
    if record.slip.slipped:
        _take(found, "slip", _over(_read(record.slip.load), machine.rated))


def _lifted(record: ProofRecord, found: dict[str, Any], load: float) -> bool | None:
    """Whether the load went up: not, if the limiter slipped below it."""
    if record.slip is not None and record.slip.slipped and record.slip.load.mean < load:
        return False
    return True if "pull_up" in found else None


def _creep(hold: Hold) -> Observed | None:
    """On the scale of decades: the slope of log10(1 + rate / unit) carries u over."""
    read = None if hold.creep is None else _read(hold.creep)
    if read is None or hold.seconds <= 0:
        return None
    rate, u = max(read.value, 0.0) / hold.seconds, read.u / hold.seconds
    slope = 1 / ((rate + CREEP_UNIT) * math.log(10))
    return Observed(value=creep_scale(rate), u=u * slope)


def _geometry(record: ProofRecord, machine: Machine) -> dict[str, Any]:
    found: dict[str, Any] = {}
    if record.clicks is not None:
        lift = _read(record.clicks.lift)
        if lift is not None and lift.value > 0:
            expected = machine.clicks_per_lift * lift.value
            value = record.clicks.count / expected
            u = math.hypot(COUNT_U / expected, value * lift.u / lift.value)
            found["clicks"] = Observed(value=value, u=u)
        found["pawls"] = record.clicks.pawls_heard
    if record.travel is not None:
        _take(found, "travel", _travel(record, machine))
    return found


def _travel(record: ProofRecord, machine: Machine) -> Observed | None:
    assert record.travel is not None
    hand, lift = _read(record.travel.hand), _read(record.travel.lift)
    if hand is None or lift is None or min(hand.value, lift.value) <= 0:
        return None
    value = hand.value / lift.value / machine.velocity_ratio
    u = value * math.hypot(hand.u / hand.value, lift.u / lift.value)
    return Observed(value=value, u=u)


def without(seen: Observables, *names: str) -> Observables:
    """The observables without some, as if they had not been recorded."""
    gone: dict[str, Any] = dict.fromkeys(names)
    return attrs.evolve(seen, **gone)
