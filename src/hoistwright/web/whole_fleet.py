"""The shop's hoists taken together, from the store: worked out once for what is in it.

Each job's facts are kept by where the job stands, in memory and in the database; the fit is made
anew only when the facts of some visit changed, not at every entry.
"""

from __future__ import annotations

import datetime
import threading
from collections.abc import Sequence
from contextlib import suppress
from weakref import WeakKeyDictionary

import attrs
from sqlalchemy import Engine

from hoistwright.fleet.due import wear_date
from hoistwright.fleet.forecasts import Fleet, fleet
from hoistwright.fleet.histories import Known
from hoistwright.fleet.risks import risks_for
from hoistwright.fleet.visit_facts import Taking, VisitFacts, lasting, visit_facts
from hoistwright.hoist.design import Design
from hoistwright.job.next_due import WearDate
from hoistwright.job.shop import Shop
from hoistwright.renew.policy import PartRisk
from hoistwright.store.connect import reading, writing
from hoistwright.store.errors import StoreError
from hoistwright.store.model import JobRow
from hoistwright.web.bases import bases_named, basis_keys
from hoistwright.web.bench import Bench
from hoistwright.web.designs import design_named
from hoistwright.web.records.fleet_visits import KeptFacts, keep_facts, kept_facts, made_of
from hoistwright.web.records.shop_records import shop_of

EVERY_JOB = 2**31 - 1
"""No hoist is left out: one that is not there is never called back."""
AT_ONCE = 200
"""Jobs read from the journal between two notes in the database."""


@attrs.define
class _Kept:
    """What was worked out for one database."""

    lock: threading.Lock = attrs.Factory(threading.Lock)
    source: str = ""
    """What the facts are made of beside the journal."""
    taking: Taking = attrs.Factory(lambda: Taking({}))
    facts: dict[str, KeptFacts] = attrs.Factory(dict)
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
        bases={basis.key: basis for basis in bases_named(bench, basis_keys(bench))},
        today=today,
    )
    done = kept.fleet
    if done is not None and visits == kept.visits and done.known == known:
        return done
    kept.visits, kept.fleet = visits, fleet(visits, known, before=done)
    return kept.fleet


def _visits(bench: Bench, kept: _Kept, shop: Shop) -> tuple[VisitFacts, ...]:
    """The facts of all jobs: those in memory, else those in the database, else from the journal."""
    gauges = lasting(shop.all_gauges())
    source = made_of(gauges)
    if source != kept.source:  # other uncertainties: every reading counts otherwise
        with reading(bench.engine) as conn:
            kept.facts = kept_facts(conn, source)
        kept.source, kept.taking = source, Taking(gauges)
    lines = bench.store.jobs(limit=EVERY_JOB)
    fresh = [line for line in lines if line.job not in kept.facts
             or kept.facts[line.job].seq != line.seq]  # fmt: skip
    for at in range(0, len(fresh), AT_ONCE):
        _read_on(bench, kept, fresh[at : at + AT_ONCE])
    found = (kept.facts[line.job].facts for line in lines)
    return tuple(facts for facts in found if facts is not None)


def _read_on(bench: Bench, kept: _Kept, lines: Sequence[JobRow]) -> None:
    """Some jobs from the journal; kept for the next start, unless the database takes nothing."""
    found: dict[str, KeptFacts] = {}
    for line in lines:
        state = bench.store.state(line.job)
        found[line.job] = KeptFacts(state.seq, visit_facts(state, line.hoist, kept.taking))
    kept.facts |= found
    with suppress(StoreError), writing(bench.engine) as conn:
        keep_facts(conn, kept.source, found.items())


def _designs(bench: Bench, visits: tuple[VisitFacts, ...]) -> dict[str, Design]:
    names = {visit.design for visit in visits if visit.design}
    found = ((name, design_named(bench, name)) for name in sorted(names))
    return {name: design for name, design in found if design is not None}
