"""What jobs tell the fleet, kept so that a bench just started need not read all of its journal."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

import attrs
from sqlalchemy import Connection, delete, insert, select

from hoistwright import __version__
from hoistwright.fleet.visit_facts import VisitFacts
from hoistwright.metrology import Gauge
from hoistwright.web.records.tables import fleet_visits

FORMAT = 1
"""To be raised when facts are taken from a job in another way."""
_AT_ONCE = 200


@attrs.frozen
class KeptFacts:
    """The facts of a job after its entry `seq`; None for a job that tells nothing."""

    seq: int
    facts: VisitFacts | None


def made_of(gauges: Mapping[str, Gauge]) -> str:
    """What facts follow from beside the journal: the gauges, and how this version takes them."""
    text = repr((FORMAT, __version__, sorted(gauges.items())))
    return hashlib.sha256(text.encode()).hexdigest()


def kept_facts(conn: Connection, source: str) -> dict[str, KeptFacts]:
    """All that is kept by job; none of what was made of something else."""
    asked = select(fleet_visits).where(fleet_visits.c.made_of == source)
    return {row.job: KeptFacts(row.seq, _read(row.body)) for row in conn.execute(asked)}


def keep_facts(conn: Connection, source: str, many: Iterable[tuple[str, KeptFacts]]) -> None:
    """Keep facts in place of what was kept for their jobs."""
    rows = [
        {"job": job, "seq": kept.seq, "made_of": source, "body": _written(kept.facts)}
        for job, kept in many
    ]
    for at in range(0, len(rows), _AT_ONCE):
        some = rows[at : at + _AT_ONCE]
        conn.execute(delete(fleet_visits).where(fleet_visits.c.job.in_([r["job"] for r in some])))
        conn.execute(insert(fleet_visits), some)


def _written(facts: VisitFacts | None) -> str:
    return "" if facts is None else str(_converter().dumps(facts))


def _read(body: str) -> VisitFacts | None:
    return None if not body else VisitFacts(**_structured(body))


def _structured(body: str) -> dict[str, Any]:
    facts = _converter().loads(body, VisitFacts)
    return {field.name: getattr(facts, field.name) for field in attrs.fields(VisitFacts)}


@cache
def _converter() -> Any:
    from cattrs.preconf.json import make_converter

    return make_converter()
