"""What the entries of a proof say, in a few words: for the history and where two people differ."""

from __future__ import annotations

from hoistwright.job.events import Body
from hoistwright.job.events_prove import (
    ProofLooked,
    ProofMeasured,
    PullRecorded,
    TestLoadChosen,
    TestSettled,
)
from hoistwright.language import marked
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.sequence import all_steps
from hoistwright.quantity import Dimension, QuantityError, find_unit, in_unit
from hoistwright.web.pages.job.prove_figures import NAMES
from hoistwright.web.visit import Visit

SPOKEN = (ProofLooked, ProofMeasured, TestLoadChosen, TestSettled)
"""Entries of a proof that can be said again to settle a difference."""


def proof_words(visit: Visit, body: Body) -> str:
    """What an entry of a proof says; empty for any other entry."""
    say = visit.say
    if isinstance(body, ProofLooked):
        return say(marked("the load ran or crept")) if body.ran else say(body.answer)
    if isinstance(body, ProofMeasured):
        return "; ".join(_figure(visit, value, body) for value in body.values)
    if isinstance(body, TestLoadChosen):
        return _load(visit, body)
    if isinstance(body, TestSettled):
        said = say("It applies") if body.applies else say("It does not apply")
        return f"{said}: {body.reason}"
    return say(body.direction) if isinstance(body, PullRecorded) else ""


def proof_about(visit: Visit, body: Body | None) -> str:
    """What an entry of a proof speaks of; empty for any other entry."""
    if isinstance(body, ProofLooked | ProofMeasured | PullRecorded):
        step = next((step.name for step in all_steps() if step.key == body.step), body.step)
        what = (
            f", {visit.say(NAMES.get(body.what, body.what))}"
            if isinstance(body, ProofMeasured)
            else ""
        )
        return visit.language.sentence(step) + what
    if isinstance(body, TestSettled):
        return visit.language.sentence(body.test)
    return visit.say("Test load") if isinstance(body, TestLoadChosen) else ""


def _load(visit: Visit, body: TestLoadChosen) -> str:
    if body.by == "test bed":
        load = visit.figure(body.bed_reading, Dimension.MASS, "kg")
        return f"{visit.say(marked('test bed'))}, {load}"
    return " + ".join(
        f"{one.count} × {visit.figure(one.mass, Dimension.MASS, 'kg')}" for one in body.hung
    )


_DIMENSIONS = (Dimension.FORCE, Dimension.LENGTH, Dimension.TIME, Dimension.TEMPERATURE)


def _figure(visit: Visit, value: float, body: ProofMeasured) -> str:
    """In the unit it was typed in; loads of a bed lie in kilograms."""
    if body.what in ("bed reading", "slip load") and body.unit:
        value *= STANDARD_GRAVITY if body.unit in ("N", "kN", "daN", "lbf", "kgf") else 1.0
    for dimension in (*_DIMENSIONS, Dimension.MASS):
        try:
            find_unit(body.unit, dimension)
        except QuantityError:
            continue
        figure = in_unit(value, dimension, body.unit)
        return f"{visit.language.number(figure, 3)} {body.unit}"
    return f"{visit.language.number(value, 2)} {body.unit}".strip()
