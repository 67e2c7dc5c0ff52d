"""What the coming weeks bring: hoists, hours, and parts to have ready."""

from __future__ import annotations

import datetime
import functools

from markupsafe import Markup
from starlette.responses import Response

from hoistwright.faults import FaultsError
from hoistwright.fleet.load import Load, load_ahead
from hoistwright.fleet.load_picture import Bar, load_svg
from hoistwright.fleet.returns import returns
from hoistwright.hoist.design import Design
from hoistwright.strip.plan import full_strip
from hoistwright.strip.rebuild import rebuild
from hoistwright.web.page import Page
from hoistwright.web.visit import Visit
from hoistwright.web.whole_fleet import whole_fleet

WEEKS = ("6", "12", "26")
MOST_WANTED = 20


def show(visit: Visit) -> Response:
    asked = visit.query("weeks")
    weeks = asked if asked in WEEKS else "12"
    fleet = whole_fleet(visit.bench)
    found = load_ahead(fleet, returns(fleet).due, visit.bench.today, int(weeks), labour_of)
    return visit.page(
        "load.html",
        load=found,
        weeks=weeks,
        ways=WEEKS,
        picture=_picture(visit, found),
        wanted=[item for item in found.wanted if item.pieces >= 0.5][:MOST_WANTED],
        names={key: design.identity.model for key, design in fleet.known.designs.items()},
        last=lambda monday: monday + datetime.timedelta(days=6),
        total=found.overdue_hours + sum(week.hours for week in found.weeks),
    )


@functools.lru_cache(maxsize=200)
def labour_of(design: Design) -> float:
    """Seconds to strip a hoist fully and to put it together again; 0 where that is not known."""
    try:
        plan = full_strip(design)
        return plan.seconds + rebuild(design, plan, []).seconds
    except (FaultsError, ValueError):
        return 0.0


def _picture(visit: Visit, found: Load) -> Markup:
    late = Bar(name=visit.say("due already"), hours=found.overdue_hours,
               above=str(len(found.overdue)), late=True)  # fmt: skip
    step = max(1, -(-len(found.weeks) // 12))
    bars = [late] + [
        Bar(
            name=f"{week.monday:%d/%m}" if at % step == 0 else "",
            hours=week.hours,
            above=str(len(week.hoists)),
        )
        for at, week in enumerate(found.weeks)
    ]
    told = visit.say("The same figures stand in the table below.")
    title = visit.say("Hours to strip and rebuild by week, with the number of hoists above")
    return Markup(load_svg(bars, title=title, told=told, hours=visit.say("hours")))


PAGES = (Page(name="load", path="/load", show=show),)
