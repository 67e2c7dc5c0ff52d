"""A demo hoist proved: the load that was hung, each step's answer, the figures that are asked."""

from __future__ import annotations

import functools
from collections.abc import Iterator

import numpy as np

from hoistwright.basis.loading import shipped_basis
from hoistwright.demo.points import BASES
from hoistwright.demo.visit import Visit
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped
from hoistwright.job.events import Body
from hoistwright.job.events_prove import (
    Hung,
    ProofLooked,
    ProofMeasured,
    TestLoadChosen,
    TestSettled,
)
from hoistwright.job.proof_load import permitted_load, proposals
from hoistwright.job.shop import Shop
from hoistwright.metrology import Outcome, state_on
from hoistwright.prove.criteria import proof_criteria
from hoistwright.prove.sequence import ProofStep, proof_sequence
from hoistwright.prove.tests_needed import Done, NeededTests, needed_tests
from hoistwright.prove.weight_values import Place, Tackle

HOLDS = ("hold", "hold_hand_load")
CELL = "load cell"


def proved(
    visit: Visit, new: tuple[str, ...], shop: Shop, rng: np.random.Generator
) -> Iterator[Body]:
    """Every word of the proof. `new`: all parts that were fitted new."""
    key = visit.hoist.design
    design = shipped(key)
    needed = _needed(key, tuple(dict.fromkeys(new)))
    for test in needed.unsettled:
        why = "as the shop does it after every overhaul"
        yield TestSettled(basis=test.basis, test=test.name, applies=True, reason=why)
    chosen = _load(design, needed, visit, shop)
    if chosen is not None:
        yield chosen
    for step in proof_sequence(design, needed):
        yield from _figures(step, design, needed, chosen, visit, shop, rng)
        if step.look:
            yield ProofLooked(step=step.key, look=step.look, answer="yes", text=step.question)


@functools.lru_cache(maxsize=500)
def _needed(key: str, new: tuple[str, ...]) -> NeededTests:
    """The tests, where everything that is open is said to apply."""
    design = shipped(key)
    parts = {part.key: part for part in design.parts}
    return needed_tests(
        [Done(part=k, role=parts[k].role, name=parts[k].name) for k in new if k in parts],
        [shipped_basis(basis).head for basis in BASES],
        design.identity.kind,
        rated_load=design.rating.rated_load,
    )


def _load(design: Design, needed: NeededTests, visit: Visit, shop: Shop) -> TestLoadChosen | None:
    """Test weights where the shop has enough of them, else the test bed."""
    permitted = permitted_load(design.rating.rated_load, needed)
    if permitted is None:
        return None
    if permitted.target <= sum(float(w.mass) * w.count for w in shop.test_weights):
        best = proposals(shop, permitted, visit.day, Tackle(), Place())[0]
        if best.outcome is Outcome.FIT:
            hung = tuple(Hung(weight=t.key, count=t.count) for t in best.taken)
            return TestLoadChosen(by="weights", hung=hung)
    return TestLoadChosen(by="test bed", bed_reading=permitted.target, gauge=_cell(visit, shop))


def _cell(visit: Visit, shop: Shop) -> str:
    """The load cell of the test bed that was in date; the first of them is the bed's."""
    cells = [g for g in shop.all_gauges() if g.kind == CELL and state_on(g, visit.day).usable]
    return min((gauge.key for gauge in cells), default="")


def _figures(
    step: ProofStep,
    design: Design,
    needed: NeededTests,
    chosen: TestLoadChosen | None,
    visit: Visit,
    shop: Shop,
    rng: np.random.Generator,
) -> Iterator[Body]:
    figure = functools.partial(ProofMeasured, step=step.key)
    rated = float(design.rating.rated_load or 0.0)
    if step.key in HOLDS:
        seconds = needed.hold or float(proof_criteria().hold.least)
        yield figure(what="hold time", values=(seconds + float(rng.integers(2, 20)),), unit="s")
    elif step.key == "pawls":
        heard = float(design.load_brake.pawls or 2)
        yield figure(what="pawls heard", values=(heard,), unit="")
    elif step.key == "lift_a_little" and chosen is not None and chosen.bed_reading is not None:
        read = round(chosen.bed_reading * (1.0 + 0.002 * float(rng.normal())))
        yield figure(what="bed reading", values=(float(read),), unit="kg", gauge=chosen.gauge)
    elif step.key == "limiter" and design.overload_limiter is not None:
        band = design.overload_limiter
        middle = 0.5 * (float(band.slip_low or 1.25) + float(band.slip_high or 1.6))
        slip = round(rated * middle * (1.0 + 0.01 * float(rng.normal())))
        yield figure(what="slip load", values=(float(slip),), unit="kg", gauge=_cell(visit, shop))
