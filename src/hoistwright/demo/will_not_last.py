"""The demo's hoist whose chain is fit today and will not last until its next visit. Invented."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from hoistwright.demo.customers import demo_customers
from hoistwright.demo.fleet import DemoHoist
from hoistwright.demo.visit import Visit
from hoistwright.demo.worn import Worn, elongation_limit, working_day
from hoistwright.hoist.library import shipped

SHARES = (0.14, 0.33, 0.51, 0.70, 0.88)
"""Of the way to its limit: its chain at each of its half-yearly visits, today's the last."""

HALF_YEAR = 183


def wearing_hoist() -> DemoHoist:
    """A quarry's hoist in heavy service."""
    owner = next(c for c in demo_customers() if c.trade == "quarry")
    return DemoHoist(
        number=100_000,
        design="ardle-2000",
        serial="A2-13570",
        tag=f"{owner.tag}-77",
        customer=owner,
        premises=owner.premises[0],
        service="heavy",
    )


def wearing_visits(today: datetime.date) -> Iterator[Visit]:
    """Its visits, not numbered yet; the last one is of the day before today."""
    hoist = wearing_hoist()
    design = shipped(hoist.design)
    limit = elongation_limit(design)
    made = today - datetime.timedelta(days=round((len(SHARES) - 0.25) * HALF_YEAR))
    before: datetime.date | None = None
    for back, share in zip(reversed(range(len(SHARES))), SHARES, strict=True):
        day = working_day(today - datetime.timedelta(days=1 + back * HALF_YEAR))
        worn = Worn(
            day=day,
            elongation=share * limit,
            stretch=0.0,
            lining=0.4e-3 * share,
            throat=0.0,
            shares={part.key: 0.25 * share for part in design.parts},
        )
        yield Visit(
            job="",
            hoist=hoist,
            made=made,
            worn=worn,
            before=before,
            technician="tomasz",
            complaint="half-yearly overhaul",
            defects={},
            renewed=(),
        )
        before = day
