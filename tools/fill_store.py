"""A large SQLite record, quickly: real entries with real hashes, entered past the program.

What it makes verifies and compares like any other; a test holds it to that.
"""

from __future__ import annotations

import datetime
import hashlib
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from hoistwright.job.codec import moment_text
from hoistwright.job.entry import BEGINNING, Draft, seal
from hoistwright.job.events import BookedIn
from hoistwright.job.fold import fold
from hoistwright.job.job_sheet import Customer, HoistIdentity
from hoistwright.store.made_rows import job_row, register_row, words_of
from hoistwright.store.sql_store import open_store

START = datetime.datetime(2024, 1, 2, 8, 0, tzinfo=datetime.UTC)
OWNERS = ("Skerry Boatyard", "Theatre on the Mole", "Greyfell Quarry", "Windward Turbines")
_STEP = 500


def fill(path: Path, hoists: int, readings: int) -> None:
    """One visit of each hoist with so many readings, into a new record at `path`."""
    open_store(path).close()
    raw = sqlite3.connect(path, isolation_level=None)
    for pragma in ("journal_mode = OFF", "synchronous = OFF", "cache_size = -400000"):
        raw.execute(f"PRAGMA {pragma}")
    maker = _Maker(readings)
    for first in range(1, hoists + 1, _STEP):
        raw.execute("BEGIN")
        maker.some(raw, range(first, min(first + _STEP, hoists + 1)))
        raw.execute("COMMIT")
    raw.execute("UPDATE head SET number = ?, chain = ?", (maker.number, maker.chain))
    raw.execute("PRAGMA optimize")
    raw.close()
    open_store(path).close()  # back to a durable mode


class _Maker:
    def __init__(self, readings: int) -> None:
        self.number, self.chain = 0, BEGINNING
        self.places = [f"section {at}" for at in range(1, readings + 1)]

    def some(self, raw: sqlite3.Connection, hoists: range) -> None:
        rows: dict[str, list[tuple[Any, ...]]] = {}
        for hoist in hoists:
            for table, row in self._visit(hoist):
                rows.setdefault(table, []).append(row)
        for table, several in rows.items():
            marks = ", ".join("?" * len(several[0]))
            raw.executemany(f"INSERT INTO {table} VALUES ({marks})", several)

    def _visit(self, hoist: int) -> Iterator[tuple[str, tuple[Any, ...]]]:
        job, at = f"KQ-{hoist:06d}", START + datetime.timedelta(minutes=hoist)
        booked = BookedIn(
            hoist=HoistIdentity(
                maker="Ardle", model="2000", serial=f"A-{hoist:06d}", tag=f"T-{hoist % 9000:04d}"
            ),
            customer=Customer(name=f"{OWNERS[hoist % 4]} {hoist % 300:04d}"),
            design="ardle-2000",
            bases=("b30-hand-hoists",),
        )
        first = seal(Draft(body=booked, by="odile", id=f"{hoist:032x}"), job=job, seq=1, at=at,
                     before=BEGINNING)  # fmt: skip
        yield "journal", self._line(first.id, job, 1, first.text, first.hash)
        row = {**job_row(fold(job, [first])), "seq": 1 + len(self.places)}
        key, before, moment = row["hoist"], first.hash, moment_text(at)
        for seq, place in enumerate(self.places, start=2):
            mean = 0.024 + ((hoist * 31 + seq) % 500) * 1e-6
            id_ = f"{hoist:016x}{seq:016x}"
            text = _text(id_, job, seq, moment, place, mean, before)
            before = hashlib.sha256(text.encode()).hexdigest()
            yield "journal", self._line(id_, job, seq, text, before)
            yield "readings", (job, "load_chain", "load_chain.link_pitch", place, key, mean,
                               f"[{mean!r}]", "mm", "", None, "odile", moment, seq)  # fmt: skip
        yield "job_heads", (job, 1 + len(self.places), before)
        row["readings"] = len(self.places)
        yield f"jobs ({', '.join(row)})", tuple(row.values())
        line = register_row(key, [row])
        yield f"hoists ({', '.join(line)})", tuple(line.values())
        for word in sorted(words_of(line)):
            yield "hoist_words", (word, key)

    def _line(self, id_: str, job: str, seq: int, text: str, hash_: str) -> tuple[Any, ...]:
        self.number += 1
        self.chain = hashlib.sha256((self.chain + hash_).encode()).hexdigest()
        return self.number, id_, job, seq, text, hash_, self.chain


def _text(id_: str, job: str, seq: int, at: str, place: str, mean: float, before: str) -> str:
    """The canonical text of a reading, written straight down."""
    return (
        f'{{"at":"{at}","before":"{before}","body":{{"feature":"load_chain.link_pitch","gauge":"",'
        f'"links":null,"part":"load_chain","place":"{place}","remark":"","unit":"mm",'
        f'"values":[{mean!r}]}},"by":"odile","format":1,"id":"{id_}","job":"{job}",'
        f'"kind":"reading","seen":{seq - 1},"seq":{seq},"told_at":null}}'
    )
