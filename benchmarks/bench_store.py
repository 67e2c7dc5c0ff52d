"""The record against bare durable inserts and against its limits.

Saving: one reading appended (journal, chain, tables, on disk) over one row inserted durably by
the database's own driver, at the middle and at the 99th of 100, in turns in one run, on SQLite
and on PostgreSQL. Asking: opening a job within 60 ms, searching the register within 50 ms, as
time over limit, with 20,000 hoists and 500,000 readings in the store; `--full` fills 200,000 and
5,000,000 (some minutes, 8 GB of disk).

Fails where asking takes longer than its limit.
"""

from __future__ import annotations

import random
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))

from fill_store import fill
from scratch_postgresql import ScratchServer

from hoistwright.job.entry import Draft
from hoistwright.job.events import ReadingEntered
from hoistwright.store.sql_store import SqlStore, open_store

SAVES = 600
ASKS = 200
OPEN_LIMIT, SEARCH_LIMIT = 0.060, 0.050
TYPED = [
    "041234", "ardle", "quarry", "A-01", "boatyard 0199", "7", "no such thing", "T-0042",
    "ardle x9",
]  # fmt: skip


def main() -> int:
    hoists = 200_000 if "--full" in sys.argv else 20_000
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        saving("SQLite", open_store(place / "save.db"), _bare_sqlite(place / "bare.db"))
        server = ScratchServer()
        try:
            saving("PostgreSQL", open_store(server.fresh()), _bare_postgresql(server))
        finally:
            server.close()
        start = time.perf_counter()
        fill(place / "full.db", hoists, 25)
        print(f"filled {hoists:,} hoists, {25 * hoists:,} readings: "
              f"{time.perf_counter() - start:.0f} s")  # fmt: skip
        return 0 if asking(place / "full.db", hoists) else 1


def saving(name: str, store: SqlStore, bare: Callable[[int], None]) -> None:
    ours: list[float] = []
    theirs: list[float] = []
    for at in range(SAVES):
        body = ReadingEntered(
            part="load_chain",
            feature="load_chain.link_pitch",
            place=f"section {at % 100}",
            values=(0.024,),
            unit="mm",
        )
        draft = Draft(body=body, by="odile")
        ours.append(_timed(lambda one=draft, job=f"KQ-{at % 5}": store.append(job, [one])))  # type: ignore[misc]
        theirs.append(_timed(lambda number=at: bare(number)))  # type: ignore[misc]
    store.close()
    for word, share in (("p50", 0.5), ("p99", 0.99)):
        a, b = _at(ours, share), _at(theirs, share)
        print(f"{name}, saving a reading, {word}: {1e3 * a:.2f} ms over bare insert "
              f"{1e3 * b:.2f} ms: {a / b:.2f}")  # fmt: skip


def asking(path: Path, hoists: int) -> bool:
    rng, good = random.Random(3), True
    store = open_store(path)
    jobs = [f"KQ-{rng.randint(1, hoists):06d}" for _ in range(ASKS)]
    good &= _told("opening a job", [lambda job=j: store.state(job) for j in jobs], OPEN_LIMIT)  # type: ignore[misc]
    words = [TYPED[at % len(TYPED)] for at in range(ASKS)]
    good &= _told("search", [lambda w=w: store.search(w) for w in words], SEARCH_LIMIT)  # type: ignore[misc]
    asked = [lambda: store.jobs(stage="book in")] * ASKS
    good &= _told("waiting list", asked, SEARCH_LIMIT)
    store.close()
    return good


def _told(what: str, asks: Sequence[Callable[[], object]], limit: float) -> bool:
    times = [_timed(ask) for ask in asks]
    middle, late = _at(times, 0.5), _at(times, 0.99)
    print(f"{what}: p50 {1e3 * middle:.2f} ms, p99 {1e3 * late:.2f} ms; p99 over limit of "
          f"{1e3 * limit:.0f} ms: {late / limit:.2f}")  # fmt: skip
    return late <= limit


def _bare_sqlite(path: Path) -> Callable[[int], None]:
    bare = sqlite3.connect(path, isolation_level=None)
    bare.execute("PRAGMA journal_mode = WAL")
    bare.execute("PRAGMA synchronous = FULL")
    bare.execute("CREATE TABLE readings (id INTEGER PRIMARY KEY, value REAL)")

    def insert(number: int) -> None:
        bare.execute("INSERT INTO readings VALUES (?, ?)", (number, 0.024))

    return insert


def _bare_postgresql(server: ScratchServer) -> Callable[[int], None]:
    import psycopg

    bare = psycopg.connect(server.fresh(), autocommit=True)
    bare.execute("CREATE TABLE bare_readings (id INTEGER PRIMARY KEY, value DOUBLE PRECISION)")

    def insert(number: int) -> None:
        bare.execute("INSERT INTO bare_readings VALUES (%s, %s)", (number, 0.024))

    return insert


def _timed(work: Callable[[], Any]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def _at(times: list[float], share: float) -> float:
    return sorted(times)[min(len(times) - 1, int(share * len(times)))]


if __name__ == "__main__":
    sys.exit(main())
