"""A visit as it is entered at the bench: every word of every stage, by whom."""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator, Mapping

import attrs
import numpy as np

from hoistwright.demo.batches import trace_of
from hoistwright.demo.points import BASES, CHAIN, demo_points
from hoistwright.demo.proofs import proved
from hoistwright.demo.readings import Rack, reading
from hoistwright.demo.releases import released
from hoistwright.demo.visit import Visit
from hoistwright.examine.points import Point
from hoistwright.hoist.library import shipped
from hoistwright.job.events import (
    Body,
    BookedIn,
    ExaminedOn,
    GivenTo,
    HoldPointSigned,
    LookAnswered,
    PartChosen,
    StageName,
    StepTicked,
)
from hoistwright.job.shop import Shop
from hoistwright.strip.plan import StripPlan, full_strip
from hoistwright.strip.rebuild import RebuildPlan, rebuild

FOUND = ("lifts and holds", "lifts and holds, runs stiff", "lifts and holds, rattles")


@attrs.frozen
class Bench:
    """The shop in which it is said."""

    shop: Shop
    rack: Rack


Words = Iterator[Body]
Stage = Callable[[Visit, Bench, np.random.Generator], Words]


def _booked(visit: Visit, bench: Bench, rng: np.random.Generator) -> Words:
    yield BookedIn(
        hoist=visit.hoist.identity(visit.made),
        customer=visit.hoist.customer.at(visit.hoist.premises),
        design=visit.hoist.design,
        bases=BASES,
        complaint=visit.complaint,
        found=FOUND[int(rng.integers(0, len(FOUND)))],
        received_on=visit.day,
        last_examined_on=visit.before,
        service=visit.hoist.service,
    )
    yield GivenTo(person=visit.technician)


def _stripped(visit: Visit, bench: Bench, rng: np.random.Generator) -> Words:
    for step in strip_plan(visit.hoist.design).steps:
        yield StepTicked(way="strip", step=step.key)


def _examined(visit: Visit, bench: Bench, rng: np.random.Generator) -> Words:
    yield ExaminedOn(day=visit.day)
    design = shipped(visit.hoist.design)
    for point in demo_points(visit.hoist.design):
        if point.stage == "rebuilt":
            continue
        if not point.measured:
            yield _look(point, visit.defects.get(point.address, ""))
            continue
        repeats = 2 if point.feature == CHAIN else 1
        yield reading(point, visit.worn, design, bench.rack, rng, repeats=repeats)


def _chosen(visit: Visit, bench: Bench, rng: np.random.Generator) -> Words:
    for part in visit.renewed:
        yield PartChosen(part=part, trace=trace_of(visit, part))


def _rebuilt(visit: Visit, bench: Bench, rng: np.random.Generator) -> Words:
    plan = rebuild_plan(visit.hoist.design, visit.renewed)
    signed = {point.step: point.text for point in plan.hold_points}
    for step in plan.steps:
        yield StepTicked(way="rebuild", step=step.key)
        if step.key in signed:
            yield HoldPointSigned(step=step.key, text=signed[step.key])
    for point in demo_points(visit.hoist.design):
        if point.stage == "rebuilt" and not point.measured:
            yield _look(point, "")


def _proved(visit: Visit, bench: Bench, rng: np.random.Generator) -> Words:
    plan = rebuild_plan(visit.hoist.design, visit.renewed)
    new = tuple(piece.part for piece in plan.new_parts)
    return proved(visit, (*visit.renewed, *new), bench.shop, rng)


def _released(visit: Visit, bench: Bench, rng: np.random.Generator) -> Words:
    return released(visit)


SAID: Mapping[StageName, Stage] = {
    "book in": _booked,
    "strip": _stripped,
    "examine": _examined,
    "renew": _chosen,
    "rebuild": _rebuilt,
    "prove": _proved,
    "release": _released,
}


def _look(point: Point, defect: str) -> LookAnswered:
    return LookAnswered(
        part=point.part,
        feature=point.feature,
        place=point.place,
        answer="defect" if defect else "in order",
        remark=defect,
    )


@functools.cache
def strip_plan(design: str) -> StripPlan:
    """The whole strip of a shipped design."""
    return full_strip(shipped(design))


@functools.cache
def rebuild_plan(design: str, renewed: tuple[str, ...]) -> RebuildPlan:
    """The way back. Parts that no step frees are fitted without one."""
    strip = strip_plan(design)
    reached = {*strip.freed, *strip.no_opening}
    return rebuild(shipped(design), strip, [key for key in renewed if key in reached])
