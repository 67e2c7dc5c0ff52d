"""The first page: what is in the shop, and what waits for whom."""

from __future__ import annotations

from starlette.responses import Response

from hoistwright.job.state import STAGES
from hoistwright.store.connect import reading
from hoistwright.web.page import Page
from hoistwright.web.records.accounts import all_accounts
from hoistwright.web.visit import Visit

STATIONS = STAGES
MOST = 200
"""Jobs shown of one stage. Those that have left the shop are none of them."""


def show(visit: Visit) -> Response:
    store = visit.bench.store
    jobs = [job for stage in STATIONS for job in store.jobs(stage=stage, limit=MOST)]
    with reading(visit.bench.engine) as conn:
        names = {account.key: account.name for account in all_accounts(conn)}
    holder = visit.query("who")
    shown = [job for job in jobs if not holder or job.holder == holder]
    return visit.page(
        "in_shop.html",
        stations=[(name, [job for job in shown if job.stage == name]) for name in STATIONS],
        total=len(shown),
        names=names,
        holder=holder,
        holders=sorted({job.holder for job in jobs if job.holder}, key=lambda k: names.get(k, k)),
    )


PAGES = (Page(name="in-shop", path="/", show=show),)
