"""One visit of a demo hoist: what came of it, decided before anything of it is written down."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping

import attrs
import numpy as np

from hoistwright.demo.customers import demo_trade
from hoistwright.demo.fleet import DemoHoist, drawn
from hoistwright.demo.points import demo_points
from hoistwright.demo.worn import Worn
from hoistwright.examine.points import Address
from hoistwright.hoist.library import shipped
from hoistwright.prove.release import Exit
from hoistwright.strip.plan import with_companions

DEFECTS = {
    "bearing.condition": "runs rough",
    "guide_roller.condition": "grooved by the chain",
    "pawl_spring.condition": "rusted",
    "hand_chain.damage": "one link bent open",
    "warning_tag.legible": "worn away, not to be read",
    "stripper.condition": "bent",
    "friction_disc.damage": "glazed over half its face",
    "suspension_pin.damage": "step where the hook bears",
}
"""What is found now and then, and how it is put."""

DEFECTIVE = 0.24
"""Share of visits at which one of them is found."""

THROAT_RENEWED = 0.7
"""Share of a throat's permitted rise from which the hook is renewed."""

TECHNICIANS = ("tomasz", "wren")
COMPETENT = "odile"


@attrs.frozen(kw_only=True)
class Visit:
    """One visit. `defects`: remarks by address; `renewed`: with all that goes with them."""

    job: str
    hoist: DemoHoist
    made: datetime.date
    worn: Worn
    before: datetime.date | None
    """The day of the visit before."""
    technician: str
    complaint: str
    defects: Mapping[Address, str]
    renewed: tuple[str, ...]
    leaves: Exit = "released"
    certificate: str = ""

    @property
    def day(self) -> datetime.date:
        return self.worn.day


def visit(
    job: str,
    hoist: DemoHoist,
    made: datetime.date,
    worn: Worn,
    before: datetime.date | None,
    rng: np.random.Generator,
) -> Visit:
    """A visit with its chance findings."""
    defects = dict(_defects(hoist.design, rng))
    wanted = [*worn.renewed, *_bent_hooks(hoist.design, worn), *(key[0] for key in defects)]
    return Visit(
        job=job,
        hoist=hoist,
        made=made,
        worn=worn,
        before=before,
        technician=drawn(rng, TECHNICIANS),
        complaint=drawn(rng, demo_trade(hoist.customer.trade).complaints),
        defects=defects,
        renewed=with_companions(shipped(hoist.design), dict.fromkeys(wanted)),
    )


def _defects(design: str, rng: np.random.Generator) -> Iterator[tuple[Address, str]]:
    if rng.random() >= DEFECTIVE:
        return
    looked = [p for p in demo_points(design) if not p.measured and p.feature in DEFECTS]
    kind = drawn(rng, sorted({p.feature for p in looked}))
    point = drawn(rng, [p for p in looked if p.feature == kind])
    yield point.address, DEFECTS[kind]


def _bent_hooks(design: str, worn: Worn) -> Iterator[str]:
    for point in demo_points(design):
        if point.feature != "hook.throat" or point.baseline is None:
            continue
        limits = [
            ruling.limit_si * (point.baseline.value if "as new" in ruling.comparison else 1.0)
            for ruling in point.rulings
            if ruling.limit_si is not None
        ]
        if worn.throat > THROAT_RENEWED * min(limits):
            yield point.part
