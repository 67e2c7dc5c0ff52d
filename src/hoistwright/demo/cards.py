"""A visit of earlier years, taken over from its paper card: few readings, no steps, no looks."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hoistwright.demo.points import BASES, CHAIN, demo_points
from hoistwright.demo.readings import Rack, reading
from hoistwright.demo.releases import released
from hoistwright.demo.visit import Visit
from hoistwright.hoist.library import shipped
from hoistwright.job.events import (
    Body,
    BookedIn,
    ExaminedOn,
    PartChosen,
    Remarked,
    StageFinished,
)
from hoistwright.job.state import STAGES

ON_CARDS = (
    CHAIN,
    "load_chain.link_pitch",
    "hook.throat",
    "friction_disc.thickness",
    "suspension_pin.diameter",
    "ratchet_disc.tooth_height",
    "pawl.tip_height",
    "load_sheave.pocket_thickness",
)
"""What the shop wrote down before it had Hoistwright."""

TAKEN_OVER = "Taken over from a paper card."


def card(visit: Visit, rack: Rack, rng: np.random.Generator) -> Iterator[Body]:
    """Every word of a card."""
    yield BookedIn(
        hoist=visit.hoist.identity(visit.made),
        customer=visit.hoist.customer.at(visit.hoist.premises),
        design=visit.hoist.design,
        bases=BASES,
        complaint=visit.complaint,
        found="not on the card",
        received_on=visit.day,
        last_examined_on=visit.before,
        service=visit.hoist.service,
    )
    yield Remarked(text=TAKEN_OVER)
    yield ExaminedOn(day=visit.day)
    design = shipped(visit.hoist.design)
    for point in demo_points(visit.hoist.design):
        if point.measured and point.feature in ON_CARDS:
            yield reading(point, visit.worn, design, rack, rng)
    for part in visit.renewed:
        yield PartChosen(part=part)
    for stage in STAGES[:-1]:
        yield StageFinished(stage=stage)
    yield from released(visit)
    yield StageFinished(stage=STAGES[-1])
