"""The choice of the test load for its page: proposals with their pictures, what was chosen."""

from __future__ import annotations

import datetime
from collections.abc import Mapping

import attrs
from markupsafe import Markup

from hoistwright.job.events_prove import TestLoadChosen
from hoistwright.job.proof_load import K, proposals
from hoistwright.job.state import Standing
from hoistwright.job.to_proof import Proof
from hoistwright.metrology import Outcome, state_on
from hoistwright.prove.bed import Applied
from hoistwright.prove.weight_values import Choice, Place, Tackle, Taken
from hoistwright.quantity import Dimension, show_interval
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.gauge_choice import Offer
from hoistwright.web.pages.job.prove_load_said import Where, where_of
from hoistwright.web.pages.job.prove_pictures import band_ruler, stack
from hoistwright.web.pages.job.question import Question


@attrs.frozen(kw_only=True)
class Proposal:
    """One way to make the load. `counts` by key of the weight."""

    choice: Choice
    state: str
    load: str
    why: str
    pieces: tuple[str, ...]
    counts: Mapping[str, int]
    stack: Markup
    ruler: Markup


@attrs.frozen(kw_only=True)
class LoadView:
    """Everything of the section; `chosen` and `applied` are None before a choice."""

    low: str
    high: str
    where: Where
    typed: Mapping[str, str]
    proposals: tuple[Proposal, ...]
    left_out: tuple[str, ...]
    chosen: Standing | None
    by: str
    applied: Applied | None
    state: str
    load: str
    why: str
    hung: tuple[str, ...]
    stack: Markup
    ruler: Markup
    cells: tuple[Offer, ...]


def load_view(case: Case, proof: Proof) -> LoadView | None:
    """None where no load test is needed."""
    band = proof.permitted
    if band is None:
        return None
    where = where_of(case)
    where = Where() if isinstance(where, Question) else where
    chosen = case.state.by_topic.get((TestLoadChosen.kind,))
    found = () if chosen else _proposals(case, proof, where)
    body = chosen.body if chosen else None
    told = body if isinstance(body, TestLoadChosen) else None
    taken = _taken(told)
    applied = proof.applied
    return LoadView(
        low=mass(case, band.low),
        high=mass(case, band.high),
        where=where,
        typed={name: case.visit.query(name) for name in ("tackle", "tackle_spread", "floor",
                                                         "frame", "piece")},
        proposals=found,
        left_out=_left_out(case, found),
        chosen=chosen,
        by=told.by if told else "",
        applied=applied,
        state=applied.outcome.words if applied else "",
        load=_interval(case, applied.load, applied.u) if applied else "",
        why=case.visit.language.sentence(applied.why) if applied else "",
        hung=_pieces(case, taken),
        stack=stack(taken, lambda value: mass(case, value).split()[0]),
        ruler=_ruler(case, applied) if applied else Markup(),
        cells=load_cells(case),
    )  # fmt: skip


def _left_out(case: Case, found: tuple[Proposal, ...]) -> tuple[str, ...]:
    """Weights that may not be used, each with why."""
    own = case.visit.language
    left = found[0].choice.left_out if found else ()
    return tuple(f"{key}: {own.sentence(why)}" for key, why in left)


def _proposals(case: Case, proof: Proof, where: Where) -> tuple[Proposal, ...]:
    assert proof.permitted is not None
    choices = proposals(
        case.shop,
        proof.permitted,
        today(case),
        Tackle(mass=where.tackle, u=where.tackle_spread / K),
        Place(floor=where.floor, bed=where.frame, piece=where.piece),
    )
    return tuple(_proposal(case, choice) for choice in choices)


def today(case: Case) -> datetime.date:
    return case.visit.bench.today


def _proposal(case: Case, choice: Choice) -> Proposal:
    ends = mass(case, choice.low), mass(case, choice.high)
    return Proposal(
        choice=choice,
        state=choice.outcome.words,
        load=_interval(case, choice.load, choice.u) if choice.taken else "",
        why=case.visit.language.sentence(choice.why),
        pieces=_pieces(case, choice.taken),
        counts={one.key: one.count for one in choice.taken},
        stack=stack(choice.taken, lambda value: mass(case, value).split()[0]),
        ruler=band_ruler(choice.low, choice.high, choice.load, choice.expanded, choice.guard, ends)
        if choice.outcome is not Outcome.NOT_ESTABLISHED
        else Markup(),
    )


def _ruler(case: Case, applied: Applied) -> Markup:
    ends = mass(case, applied.low), mass(case, applied.high)
    return band_ruler(
        applied.low, applied.high, applied.load, applied.expanded, applied.guard, ends
    )


def _taken(chosen: TestLoadChosen | None) -> tuple[Taken, ...]:
    if chosen is None:
        return ()
    return tuple(
        Taken(key=one.weight, count=one.count, mass=one.mass) for one in chosen.hung if one.mass
    )


def _pieces(case: Case, taken: tuple[Taken, ...]) -> tuple[str, ...]:
    return tuple(f"{one.count} × {mass(case, one.mass)}" for one in taken)


def mass(case: Case, value: float) -> str:
    """A load at the test stand: kilograms, or pounds."""
    return case.visit.figure(value, Dimension.MASS, "kg")


def _interval(case: Case, load: float, u: float) -> str:
    unit = "lb" if case.visit.units == "in" else "kg"
    return show_interval(load, 2 * u, Dimension.MASS, unit, decimal=case.visit.language.decimal)


def load_cells(case: Case, *, fine: bool = False) -> tuple[Offer, ...]:
    """Load cells for a test bed, the coarsest first: it reaches furthest; `fine`: for a pull."""
    forces = [g for g in case.shop.all_gauges() if g.measures is Dimension.FORCE]
    sign = 1.0 if fine else -1.0
    offers = []
    for gauge in sorted(forces, key=lambda g: ("cell" not in g.kind, sign * g.resolution)):
        found = state_on(gauge, today(case))
        offers.append(Offer(key=gauge.key, name=gauge.name,
                            trouble="" if found.usable else found.reason))  # fmt: skip
    return tuple(offers)
