"""The register of hoists: search, and the history of one."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

import attrs
from starlette.responses import Response

from hoistwright.examine.words import unit_for
from hoistwright.hoist.feature import Measure, measure
from hoistwright.job.state import STAGES
from hoistwright.quantity import Dimension
from hoistwright.store.connect import reading
from hoistwright.store.model import HoistRow, JobRow, ReadingRow
from hoistwright.web.designs import design_named
from hoistwright.web.outlooks import hoist_view
from hoistwright.web.page import Page
from hoistwright.web.records.accounts import all_accounts
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit
from hoistwright.web.whole_fleet import whole_fleet

MOST_FOUND = 60


def show_all(visit: Visit) -> Response:
    text = visit.query("q")[:200]
    found = visit.bench.store.search(text, limit=MOST_FOUND) if text else ()
    if len(found) == 1 and visit.query("go"):
        return visit.go("hoist", hoist=found[0].hoist)
    recent = () if text else _recent(visit)
    return visit.page("hoists.html", text=text, found=found, recent=recent, most=MOST_FOUND)


def _recent(visit: Visit) -> list[HoistRow]:
    """Hoists that are in the shop now, for a page that nobody has searched yet."""
    store = visit.bench.store
    jobs = [job for stage in STAGES for job in store.jobs(stage=stage, limit=200)]
    jobs.sort(key=lambda job: job.opened_at, reverse=True)
    keys = dict.fromkeys(job.hoist for job in jobs)
    rows = (store.hoist(key) for key in list(keys)[:12])
    return [row for row in rows if row is not None]


def show(visit: Visit) -> Response:
    store, key = visit.bench.store, visit.part("hoist")
    hoist = store.hoist(key)
    if hoist is None:
        raise Refused(
            404,
            visit.say("There is no such hoist in the register."),
            visit.say("Search by serial number, customer or tag."),
        )
    jobs = store.jobs(hoist=key, limit=100)
    design = design_named(visit.bench, hoist.design)
    names = {part.key: part.name for part in design.parts} if design else {}
    with reading(visit.bench.engine) as conn:
        people = {account.key: account.name for account in all_accounts(conn)}
    return visit.page(
        "hoist.html",
        hoist=hoist,
        jobs=jobs,
        design=design,
        people=people,
        series=_series(visit, store.earlier_readings(key), jobs, names),
        outlook=hoist_view(visit, whole_fleet(visit.bench), key),
    )


@attrs.frozen
class Series:
    """One reading of a part over the visits, as texts; empty for a visit without it."""

    part: str
    what: str
    values: tuple[str, ...]


def _series(
    visit: Visit, rows: Iterable[ReadingRow], jobs: Iterable[JobRow], names: dict[str, str]
) -> tuple[tuple[str, ...], list[Series]]:
    """The last visits with readings, the oldest first, and each reading across them."""
    every = sorted(rows, key=lambda r: (r.part, r.feature, r.place))
    measured = {row.job for row in every}
    visits = [job.job for job in reversed(tuple(jobs)) if job.job in measured][-6:]
    out = []
    for (part, feature, place), group in groupby(every, key=lambda r: (r.part, r.feature, r.place)):
        found = _measure(feature)
        dimension = Dimension(found.dimension) if found else None
        by_job = {row.job: _shown(visit, row, dimension) for row in group}
        words = (found.name if found else feature, place)
        what = ", ".join(visit.language.name(word) for word in words if word)
        values = tuple(by_job.get(job, "") for job in visits)
        out.append(
            Series(visit.language.name(names.get(part, part.replace("_", " "))), what, values)
        )
    return tuple(visits), out


def _measure(feature: str) -> Measure | None:
    """What is measured; None for a feature that the catalogue no longer has."""
    try:
        return measure(feature)
    except KeyError:
        return None


def _shown(visit: Visit, row: ReadingRow, dimension: Dimension | None) -> str:
    if dimension is None:
        return visit.language.number(row.mean, 6)
    return visit.figure(row.mean, dimension, unit_for(dimension))


PAGES = (
    Page(name="hoists", path="/hoists", show=show_all),
    Page(name="hoist", path="/hoists/{hoist}", show=show),
)
