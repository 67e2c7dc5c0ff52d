"""From the cells of a sheet to a job sheet, or to everything that is wrong with them.

All formats come through here, so that each is checked alike and says the same.
"""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING

from hoistwright.faults import Fault, FaultsError
from hoistwright.job.job_sheet import JobSheet
from hoistwright.sheet.bounds import bounds_faults
from hoistwright.sheet.check_header import check_header
from hoistwright.sheet.check_rows import Rows
from hoistwright.sheet.figures import Typing
from hoistwright.sheet.raw import RawSheet

if TYPE_CHECKING:
    from hoistwright.job.shop import Shop


def check(
    raw: RawSheet, *, shop: Shop | None = None, today: datetime.date | None = None
) -> JobSheet:
    """The job sheet in `raw`.

    Args:
        raw: the cells of a sheet. Relative paths in it start from the folder of its file.
        shop: people and gauges are looked up here; without it any name is taken.
        today: no examination may lie after it.

    Errors:
        FaultsError: with every fault found; nothing is taken over then.
    """
    faults: list[Fault] = bounds_faults(raw)
    if faults:
        raise FaultsError([*raw.faults, *faults])
    faults += raw.faults
    head = check_header(raw, shop=shop, today=today, faults=faults)
    if head.design is None:
        raise FaultsError(faults)  # rows cannot be told apart without their design
    typing = Typing(head.units, head.decimal, head.confirmed)
    rows = Rows(head.design, typing, shop, faults)
    rows.take(raw.rows)
    if faults or head.work is None:
        raise FaultsError(faults)
    return JobSheet(
        job=head.job,
        design=head.design_name,
        hoist=head.hoist,
        customer=head.customer,
        work=head.work,
        units=head.units,
        readings=tuple(rows.readings),
        looks=tuple(rows.looks),
        file=raw.file,
    )
