"""The shop's hoists taken together, from the store: worked out once for what is in it.

Each job's facts are kept by where the job stands; the fit is made anew only when the facts of
some visit changed, not at every entry.
"""

from __future__ import annotations

import datetime
import threading
from collections.abc import Mapping
from weakref import WeakKeyDictionary

import attrs
from sqlalchemy import Engine

from hoistwright.basis.loading import shipped_bases, shipped_basis
from hoistwright.fleet.due import wear_date
from hoistwright.fleet.forecasts import Fleet, fleet
from hoistwright.fleet.histories import Known
from hoistwright.fleet.risks import risks_for
from hoistwright.fleet.visit_facts import VisitFacts, lasting, visit_facts
from hoistwright.hoist.design import Design
from hoistwright.job.next_due import WearDate
from hoistwright.job.shop import Shop
from hoistwright.metrology import Gauge
from hoistwright.renew.policy import PartRisk
from hoistwright.store.connect import reading
from hoistwright.web.bench import Bench
from hoistwright.web.designs import design_named
from hoistwright.web.records.shop_records import shop_of

MOST_JOBS = 100_000


@attrs.define
class _Kept:
    """What was worked out for one database."""

    lock: threading.Lock = attrs.Factory(threading.Lock)
    gauges: Mapping[str, Gauge] = attrs.Factory(dict)
    facts: dict[str, tuple[int, VisitFacts | None]] = attrs.Factory(dict)
    """By job, with the number of the entry it is of."""
    visits: tuple[VisitFacts, ...] = ()
    fleet: Fleet | None = None


_KEPT: WeakKeyDictionary[Engine, _Kept] = WeakKeyDictionary()
_FIRST = threading.Lock()


def whole_fleet(bench: Bench) -> Fleet:
    """All hoists of the shop with their outlook, as the journal stands now."""
    with _FIRST:
        kept = _KEPT.setdefault(bench.engine, _Kept())
    with kept.lock:
        return _brought_up(bench, kept)


def job_risks(bench: Bench, job: str) -> tuple[PartRisk, ...]:
    """What each part of a job's hoist risks until its next visit; empty where nothing can be said.

    The job's own readings count once its examination is finished.
    """
    line = bench.store.job(job)
    return risks_for(whole_fleet(bench), line.hoist) if line else ()


def job_wear_date(bench: Bench, job: str, since: datetime.date) -> WearDate | None:
    """The day by which wear asks for the hoist of a job again, for its certificate."""
    line = bench.store.job(job)
    return wear_date(whole_fleet(bench), line.hoist, since) if line else None


def _brought_up(bench: Bench, kept: _Kept) -> Fleet:
    with reading(bench.engine) as conn:
        shop = shop_of(conn)
    visits = _visits(bench, kept, shop)
    today = bench.today
    known = Known(
        designs=_designs(bench, visits),
        bases={key: shipped_basis(key) for key in shipped_bases()},
        today=today,
    )
    done = kept.fleet
    if done is not None and visits == kept.visits and _same(done.known, known):
        return done
    kept.visits, kept.fleet = visits, fleet(visits, known)
    return kept.fleet


def _visits(bench: Bench, kept: _Kept, shop: Shop) -> tuple[VisitFacts, ...]:
    gauges = lasting(shop.all_gauges())
    if gauges != kept.gauges:  # other uncertainties: every reading counts otherwise
        kept.gauges, kept.facts = gauges, {}
    out: list[VisitFacts] = []
    for line in bench.store.jobs(limit=MOST_JOBS):
        seq, facts = kept.facts.get(line.job, (0, None))
        if seq != line.seq:
            state = bench.store.state(line.job)
            facts = visit_facts(state, line.hoist, gauges)
            kept.facts[line.job] = state.seq, facts
        if facts is not None:
            out.append(facts)
    return tuple(out)


def _designs(bench: Bench, visits: tuple[VisitFacts, ...]) -> dict[str, Design]:
    names = {visit.design for visit in visits if visit.design}
    found = ((name, design_named(bench, name)) for name in sorted(names))
    return {name: design for name, design in found if design is not None}


def _same(before: Known, now: Known) -> bool:
    return before.today == now.today and before.designs == now.designs
