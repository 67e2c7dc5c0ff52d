"""Findings that only inform: how far a lever's stroke turns the shaft, how warm the cover gets."""

from __future__ import annotations

import math
from collections.abc import Iterator

import attrs

from hoistwright.metrology import rectangular
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.case import Case, budget
from hoistwright.prove.criteria import proof_criteria
from hoistwright.prove.finding import Band, Measured, ProofFinding, held_against
from hoistwright.prove.record import CoverTemperature, Strokes
from hoistwright.quantity import Dimension, show


def strokes(case: Case) -> Iterator[ProofFinding]:
    """Mean turn of the shaft in one stroke: 2 pi n_shaft h / strokes."""
    told = case.record.strokes
    if told is None or case.machine is None or told.count < 1:
        return
    measured = _swing(told, case)
    if measured is None:
        return
    swing = proof_criteria().lever_swing
    band = Band(low=float(swing.least), high=float(swing.most), source=swing.source,
                known=swing.known)  # fmt: skip
    found = held_against(
        "strokes", "turn of the shaft in one stroke", measured, band, case.rule, required=False,
        next_step="Listen whether the selector pawl skips; look at its spring and the ratchet.",
    )  # fmt: skip
    teeth = measured.value / (2 * math.pi) * case.machine.ratchet_teeth
    told_teeth = f"; {told.count} strokes, {teeth:.1f} ratchet teeth each"
    yield attrs.evolve(found, why=found.why + told_teeth)


def _swing(told: Strokes, case: Case) -> Measured | None:
    read = budget(told.lift, case.record.day)
    assert case.machine is not None
    if isinstance(read, str) or read[0] <= 0:
        return None
    lift, u, dof, gauge = read
    value = 2 * math.pi * case.machine.turns_per_lift * lift / told.count
    counted = float(rectangular(0.5)) / told.count
    relative = math.hypot(counted, u / lift)
    return Measured(value=value, u=value * relative, dof=dof, dimension=Dimension.ANGLE, unit="°",
                    gauge=gauge)  # fmt: skip


def cover(case: Case) -> Iterator[ProofFinding]:
    """How warm the brake cover got, and the work of the load that went into the brake: m g h."""
    told = case.record.cover
    if told is None:
        return
    limit = proof_criteria().cover
    measured = Measured(value=told.after, u=float(limit.reading) / 2,
                        dimension=Dimension.TEMPERATURE, unit="°C")  # fmt: skip
    band = Band(high=float(limit.warmest), source=limit.source, known=limit.known)
    found = held_against(
        "cover temperature", "brake cover after lowering", measured, band, case.rule,
        required=False, next_step="Let the brake cool before the next lowering; lower slower.",
    )  # fmt: skip
    yield attrs.evolve(found, why=found.why + _warmed(case, told))


def _warmed(case: Case, told: CoverTemperature) -> str:
    rise = show(told.after - told.before, Dimension.TEMPERATURE_DIFFERENCE, "K")
    load = case.applied.load if case.applied is not None else math.nan
    if not (math.isfinite(load) and told.lift > 0):
        return f"; warmer by {rise}"
    work = load * STANDARD_GRAVITY * told.lift / 1000
    return f"; warmer by {rise}, the load put {work:.0f} kJ into the brake"
