"""The common append, with as little between it and the disk as there can be.

One entry on a job whose state is known from before, touching no more than the job's line and
one reading or look. All that can be worked out is worked out before the record is locked; the
statements then go to the driver itself, on PostgreSQL in one round trip. What the record does not
agree with (the job has moved on, the id is taken) is refused by the record, and the caller takes
the long way. It is as durable as the long way: one transaction, committed before this returns.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import attrs
from sqlalchemy import Engine, Table

from hoistwright.job.entry import Event
from hoistwright.job.state import JobState
from hoistwright.store.connect import direct, explained
from hoistwright.store.journal import chained
from hoistwright.store.made_rows import Row
from hoistwright.store.model import Head
from hoistwright.store.upsert import put_text

_STANDS = (
    "SELECT h.number, h.chain, j.seq, j.hash FROM head AS h "
    "LEFT JOIN job_heads AS j ON j.job = ? WHERE h.one = 1"
)
_ENTER = (
    "INSERT INTO journal (number, id, job, seq, entry, hash, chain) VALUES (?, ?, ?, ?, ?, ?, ?)"
)
_SET_HEAD = "UPDATE head SET number = ?, chain = ? WHERE one = 1"
_SET_JOB_HEAD = "UPDATE job_heads SET seq = ?, hash = ? WHERE job = ?"

# The head first, as the long way does it, so that neither waits for the other. Where the job
# does not stand where it is thought to, there is no number, which the journal refuses.
_AT_ONCE = """
WITH at AS (
    UPDATE head SET number = number + 1,
        chain = encode(sha256(convert_to(chain || %(hash)s::text, 'UTF8')), 'hex')
    WHERE one = 1 RETURNING number, chain
), moved AS (
    UPDATE job_heads AS j SET seq = %(seq)s::integer, hash = %(hash)s::text FROM at
    WHERE j.job = %(job)s::text AND j.seq = %(old_seq)s::integer AND j.hash = %(old_hash)s::text
    RETURNING at.number, at.chain
)
INSERT INTO journal (number, id, job, seq, entry, hash, chain)
SELECT (SELECT number FROM moved), %(id)s, %(job)s, %(seq)s::integer, %(entry)s, %(hash)s,
    (SELECT chain FROM moved)
RETURNING number, chain
"""
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
        if connection.execute("SELECT 1 FROM journal WHERE id = ?", (event.id,)).fetchone():
            return None
        at = Head(number=stands[0] + 1, chain=chained(stands[1], event.hash))
        entry = (at.number, event.id, event.job, event.seq, event.text, event.hash, at.chain)
        connection.execute(_ENTER, entry)
        connection.execute(_SET_HEAD, (at.number, at.chain))
        connection.execute(_SET_JOB_HEAD, (event.seq, event.hash, event.job))
        for table, row in item.rows:
            text, names = put_text(engine, table)
            connection.execute(text, tuple(row[name] for name in names))
        connection.execute("COMMIT")
    return at


def _on_postgresql(engine: Engine, item: Next) -> Head | None:
    import psycopg

    event = item.event
    entry: dict[str, Any] = {
        "id": event.id,
        "job": event.job,
        "seq": event.seq,
        "entry": event.text,
        "hash": event.hash,
        "old_seq": item.before.seq,
        "old_hash": item.before.hash,
    }
    try:
        with direct(engine) as connection:
            cursor = connection.cursor()
            with connection.pipeline():
                cursor.execute(_AT_ONCE, entry)
                for table, row in item.rows:
                    connection.execute(put_text(engine, table)[0], row)
                connection.commit()
            number, chain = cursor.fetchone()
    except psycopg.errors.IntegrityError as error:
        if error.sqlstate in _MOVED_ON:
            return None
        raise explained(error) from error
    except psycopg.Error as error:
        raise explained(error) from error
    return Head(number=number, chain=chain)
