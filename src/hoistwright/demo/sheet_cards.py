"""Cards of earlier years for the hoists of the demo's job sheets, so that their wear is seen."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from hoistwright.demo.customers import demo_customers
from hoistwright.demo.fleet import DemoHoist
from hoistwright.demo.planned import Planned
from hoistwright.demo.points import chain_points
from hoistwright.demo.shop_files import demo_sheets
from hoistwright.demo.visit import Visit
from hoistwright.demo.worn import Worn, elongation_limit, lining_allowed, working_day
from hoistwright.faults import FaultsError
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.job.job_sheet import JobSheet
from hoistwright.sheet import read_sheet

FIRST_HOIST = 200_000
"""Numbers of these hoists, beyond those of the fleet."""

YEARS_AGO = ((2, 0.5), (1, 0.75))
"""When they were here, and how worn they then were beside today."""

NO_WORSE = 0.55
"""Of the way to the limit: what only came in the last year does not stand on the cards."""


def sheet_cards() -> Iterator[Planned]:
    """Two cards for each hoist with a serial number and a shipped design, not numbered yet."""
    for place, path in enumerate(demo_sheets()):
        try:
            sheet = read_sheet(path)
        except FaultsError:  # the sheet that shows what faults look like
            continue
        if sheet.design in shipped_keys() and sheet.hoist.serial:
            yield from _cards(sheet, _hoist(sheet, FIRST_HOIST + place))


def _hoist(sheet: JobSheet, number: int) -> DemoHoist:
    owner = next(c for c in demo_customers() if c.name == sheet.customer.name)
    return DemoHoist(
        number=number,
        design=sheet.design,
        serial=sheet.hoist.serial,
        tag=sheet.hoist.tag,
        customer=owner,
        premises=sheet.customer.premises,
        service=sheet.work.service,
    )


def _cards(sheet: JobSheet, hoist: DemoHoist) -> Iterator[Planned]:
    design = shipped(sheet.design)
    limit = elongation_limit(design)
    now = min(_elongation(sheet, design), NO_WORSE * limit)
    made = datetime.date(int(sheet.hoist.manufactured or 2019), 6, 1)
    before: datetime.date | None = None
    for years, share in YEARS_AGO:
        day = working_day(sheet.work.examined_on - datetime.timedelta(days=365 * years + 3))
        worn = Worn(
            day=day,
            elongation=share * now,
            stretch=0.0,
            lining=0.25 * share * lining_allowed(design),
            throat=0.0,
            shares={part.key: 0.2 * share for part in design.parts},
        )
        visit = Visit(
            job="",
            hoist=hoist,
            made=made,
            worn=worn,
            before=before,
            technician="tomasz",
            complaint=sheet.work.complaint,
            defects={},
            renewed=(),
        )
        yield Planned(visit=visit, on_card=True)
        before = day


def _elongation(sheet: JobSheet, design: Design) -> float:
    """Of the most worn section as the job sheet has it; 0 where it was not read."""
    point = chain_points(design)[0]
    read = next((r for r in sheet.readings if (r.part, r.feature, r.place) == point.address), None)
    if read is None or not read.values or point.baseline is None or not design.load_chain.pitch:
        return 0.0
    rise = sum(read.values) / len(read.values) - point.baseline.value
    return max(0.0, rise / ((point.links or 1) * design.load_chain.pitch))
