"""What the findings of a proof lean on, and how a reading becomes a value."""

from __future__ import annotations

import datetime

import attrs

from hoistwright.metrology import DecisionRule, reading_budget, state_on
from hoistwright.prove.bed import Applied
from hoistwright.prove.criteria import CreepLimit
from hoistwright.prove.machine import Machine
from hoistwright.prove.record import ProofRecord, Readings
from hoistwright.prove.tests_needed import NeededTests


@attrs.frozen(kw_only=True)
class Case:
    """All that a finding may lean on."""

    record: ProofRecord
    needed: NeededTests
    machine: Machine | None
    why_no_machine: str
    applied: Applied | None
    creep_limit: CreepLimit | None
    rule: DecisionRule


def budget(readings: Readings, day: datetime.date) -> tuple[float, float, float, str] | str:
    """Value, u, degrees of freedom and gauge of readings; or why they do not count."""
    if not readings.readings:
        return "nothing was read"
    if readings.gauge is None:
        return "no gauge is named: a reading without its gauge has no uncertainty"
    state = state_on(readings.gauge, day, reading=readings.mean)
    if not state.usable:
        return state.reason
    budget = reading_budget(readings.gauge, repeats=readings.readings)
    return readings.mean, float(budget.u), float(budget.dof), readings.gauge.name
