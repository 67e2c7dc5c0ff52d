"""The common append, with as little between it and the disk as there can be.

One entry on a job whose state is known from before, touching no more than the job's line and
one reading or look. All that can be worked out is worked out before the record is locked; the
statements then go to the driver itself, on PostgreSQL as a single one. What the record does not
agree with (the job has moved on, the id is taken) is refused by the record, and the caller takes
the long way. It is as durable as the long way: one transaction, committed before this returns.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from typing import Any

import attrs
from sqlalchemy import Engine, Table

from hoistwright.job.entry import Event
from hoistwright.job.state import JobState
from hoistwright.store.at_once import all_at_once
from hoistwright.store.connect import direct, explained
from hoistwright.store.journal import chained
from hoistwright.store.made_rows import Row
from hoistwright.store.model import Head
from hoistwright.store.upsert import sqlite_text

_STANDS = (
    "SELECT h.number, h.chain, j.seq, j.hash FROM head AS h "
    "LEFT JOIN job_heads AS j ON j.job = ? WHERE h.one = 1"
)
_ENTER = (
    "INSERT INTO journal (number, id, job, seq, entry, hash, chain) VALUES (?, ?, ?, ?, ?, ?, ?)"
)
_SET_HEAD = "UPDATE head SET number = ?, chain = ? WHERE one = 1"
_SET_JOB_HEAD = "UPDATE job_heads SET seq = ?, hash = ? WHERE job = ?"

_MOVED_ON = ("23502", "23505")
"""No number, or an id or a place that is taken."""


@attrs.frozen(kw_only=True)
class Next:
    """The next entry of a job, and the rows that follow from it."""

    before: JobState
    after: JobState
    event: Event
    rows: Sequence[tuple[Table, Row]]


def enter_next(engine: Engine, item: Next) -> Head | None:
    """Enter it; where the journal then stands. None where the record has moved on: nothing done.

    Raises StoreError; nothing was entered then.
    """
    if engine.dialect.name == "sqlite":
        return _on_sqlite(engine, item)
    return _on_postgresql(engine, item)


def _on_sqlite(engine: Engine, item: Next) -> Head | None:
    event = item.event
    with direct(engine) as connection:
        connection.execute("BEGIN IMMEDIATE")
        stands = connection.execute(_STANDS, (event.job,)).fetchone()
        if stands is None or stands[2:] != (item.before.seq, item.before.hash):
            return None
        at = Head(number=stands[0] + 1, chain=chained(stands[1], event.hash))
        entry = (at.number, event.id, event.job, event.seq, event.text, event.hash, at.chain)
        try:
            connection.execute(_ENTER, entry)
        except sqlite3.IntegrityError:  # an id that is taken, in another job
            return None
        connection.execute(_SET_HEAD, (at.number, at.chain))
        connection.execute(_SET_JOB_HEAD, (event.seq, event.hash, event.job))
        for table, row in item.rows:
            text, names = sqlite_text(table, row)
            connection.execute(text, tuple(row[name] for name in names))
        connection.execute("COMMIT")
    return at


def _on_postgresql(engine: Engine, item: Next) -> Head | None:
    """In one statement, which is a transaction by itself."""
    import psycopg

    event = item.event
    values: dict[str, Any] = {
        "id": event.id,
        "job": event.job,
        "seq": event.seq,
        "entry": event.text,
        "hash": event.hash,
        "old_seq": item.before.seq,
        "old_hash": item.before.hash,
    }
    for table, row in item.rows:
        values.update((f"{table.name}_{name}", value) for name, value in row.items())
    text = all_at_once(tuple((table, tuple(row)) for table, row in item.rows))
    try:
        with direct(engine) as connection:
            connection.autocommit = True
            try:
                number, chain = connection.execute(text, values).fetchone()
            finally:
                connection.autocommit = False
    except psycopg.errors.IntegrityError as error:
        if error.sqlstate in _MOVED_ON:
            return None
        raise explained(error) from error
    except psycopg.Error as error:
        raise explained(error) from error
    return Head(number=number, chain=chain)
