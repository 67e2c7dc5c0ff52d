"""Events of an invented job, and a record filled with some."""

from __future__ import annotations

import datetime
import itertools

from hoistwright.job.entry import Draft
from hoistwright.job.events import Body, BookedIn, LookAnswered, ReadingEntered
from hoistwright.job.job_sheet import Customer, HoistIdentity
from hoistwright.store.sql_store import SqlStore

NOON = datetime.datetime(2026, 11, 25, 12, 0, tzinfo=datetime.UTC)


def booking(serial: str = "A-2041", customer: str = "Skerry Boatyard", tag: str = "") -> BookedIn:
    return BookedIn(
        hoist=HoistIdentity(maker="Ardle", model="2000", serial=serial, tag=tag, rated_load=2000),
        customer=Customer(name=customer),
        design="ardle-2000",
        bases=("b30-hand-hoists",),
        found="Runs, holds, no odd noise.",
    )


def reading(place: str = "section 1", value: float = 0.0241) -> ReadingEntered:
    return ReadingEntered(
        part="load_chain", feature="load_chain.link_pitch", place=place, values=(value,), unit="mm"
    )


def look(answer: str = "in order") -> LookAnswered:
    return LookAnswered(part="pawl", feature="pawl.tip", place="1", answer=answer)  # type: ignore[arg-type]


_ids = itertools.count(1)


def draft(body: Body, by: str = "odile", seen: int | None = None, id_: str = "") -> Draft:
    return Draft(body=body, by=by, seen=seen, id=id_ or f"draft-{next(_ids):06d}")


def fill(store: SqlStore, jobs: int = 3, readings: int = 4) -> SqlStore:
    """Some jobs, their entries mixed together as they come in a shop."""
    for number in range(1, jobs + 1):
        store.append(f"KQ-{number}", [draft(booking(serial=f"A-{2040 + number}"))], now=NOON)
    for at in range(readings):
        for number in range(1, jobs + 1):
            body = reading(f"section {at + 1}", 0.0240 + at * 1e-5)
            store.append(f"KQ-{number}", [draft(body, by="tomasz")], now=NOON)
    return store
