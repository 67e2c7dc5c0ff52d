"""Keeping the made tables level with the journal, inside the transaction that grows it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sqlalchemy import Connection, Table, bindparam, delete, insert, select, update

from hoistwright.job.events import Topic
from hoistwright.job.state import JobState
from hoistwright.store.made_rows import (
    Row,
    counts,
    hoist_of,
    in_order,
    job_row,
    look_row,
    look_rows,
    reading_row,
    reading_rows,
    register_row,
    topics_between,
    words_of,
)
from hoistwright.store.tables import MADE, hoist_words, hoists, jobs, looks, readings
from hoistwright.store.upsert import put

_JOBS_OF_HOIST = select(jobs).where(jobs.c.hoist == bindparam("h"))
_HOIST = select(hoists).where(hoists.c.hoist == bindparam("h"))
_DROP_HOIST = delete(hoists).where(hoists.c.hoist == bindparam("h"))
_DROP_WORDS = delete(hoist_words).where(hoist_words.c.hoist == bindparam("h"))


def follow(connection: Connection, before: JobState, after: JobState) -> None:
    """Bring the made tables from one state of a job to the next."""
    if after.seq == before.seq:
        return
    row = job_row(after)
    put(connection, jobs, [row])
    old = hoist_of(before) if before.seq else row["hoist"]
    topics = topics_between(before, after)
    if old != row["hoist"]:
        for table in (readings, looks):
            moved = update(table).where(table.c.job == after.job).values(hoist=row["hoist"])
            connection.execute(moved)
    _addresses(connection, after, row["hoist"], topics)
    if before.seq == 0 or any(topic[:1] in _IDENTITY for topic in topics):
        for hoist in {old, row["hoist"]}:
            register(connection, hoist)


def few_rows(before: JobState, after: JobState) -> list[tuple[Table, Row]] | None:
    """The rows to put from one state to the next; None where that is not all there is to do.

    A row of `jobs` may be without the columns that stay as they are.
    """
    topics = topics_between(before, after)
    if before.seq == 0 or any(topic[:1] in _IDENTITY for topic in topics):
        return None
    hoist = hoist_of(after)
    if all(topic[:1] in _COUNTED for topic in topics):
        rows = [(jobs, {"job": after.job, **counts(after)})]
    else:
        rows = [(jobs, job_row(after))]
    for topic in topics:
        found = _row_of(after, hoist, topic)
        if found is not None:
            if found[1] is None:
                return None
            rows.append((found[0], found[1]))
    return rows


_COUNTED = {("reading",), ("look",)}
_IDENTITY = {("booked in",), ("design chosen",), ("certificate",), ("certificate withdrawn",)}


def register(connection: Connection, hoist: str) -> None:
    """Bring a hoist's line of the register level with its jobs."""
    found = [dict(row) for row in connection.execute(_JOBS_OF_HOIST, {"h": hoist}).mappings()]
    had = connection.execute(_HOIST, {"h": hoist}).mappings().one_or_none()
    old = words_of(dict(had)) if had else frozenset()
    if not found:
        connection.execute(_DROP_HOIST, {"h": hoist})
        connection.execute(_DROP_WORDS, {"h": hoist})
        return
    row = register_row(hoist, in_order(found))
    put(connection, hoists, [row])
    new = words_of(row)
    if old != new:
        connection.execute(_DROP_WORDS, {"h": hoist})
        if new:  # a hoist whose booking was withdrawn has no words left
            connection.execute(insert(hoist_words), _word_rows(hoist, new))


def empty(connection: Connection) -> None:
    """Empty the made tables."""
    for table in MADE:
        connection.execute(delete(table))


def fill(connection: Connection, states: Sequence[JobState]) -> None:
    """Enter whole jobs into empty tables, all but the register."""
    for table, rows in (
        (jobs, [job_row(state) for state in states]),
        (readings, [row for state in states for row in reading_rows(state)]),
        (looks, [row for state in states for row in look_rows(state)]),
    ):
        if rows:
            connection.execute(insert(table), rows)


def fill_register(connection: Connection, hoists_: Iterable[tuple[str, list[Row]]]) -> None:
    """Enter hoists with their jobs into an empty register."""
    rows = [register_row(hoist, in_order(found)) for hoist, found in hoists_]
    if rows:
        connection.execute(insert(hoists), rows)
        words = [word for row in rows for word in _word_rows(row["hoist"], words_of(row))]
        if words:
            connection.execute(insert(hoist_words), words)


def _addresses(
    connection: Connection, state: JobState, hoist: str, topics: Iterable[Topic]
) -> None:
    for topic in topics:
        found = _row_of(state, hoist, topic)
        if found is not None:
            _one(connection, found[0], state, topic, found[1])


def _row_of(state: JobState, hoist: str, topic: Topic) -> tuple[Table, Row | None] | None:
    """Where a topic has a line of its own: the table, and the line while anything stands."""
    if topic[:1] == ("reading",):
        entry = state.readings.get((topic[1], topic[2], topic[3]))
        return readings, reading_row(state, hoist, entry) if entry else None
    if topic[:1] == ("look",):
        entry = state.looks.get((topic[1], topic[2], topic[3]))
        return looks, look_row(state, hoist, entry) if entry else None
    return None


def _one(
    connection: Connection, table: Table, state: JobState, topic: Topic, row: Row | None
) -> None:
    if row is not None:
        put(connection, table, [row])
        return
    _, part, feature, place = topic
    c = table.c
    gone = (c.job == state.job, c.part == part, c.feature == feature, c.place == place)
    connection.execute(delete(table).where(*gone))


def _word_rows(hoist: str, words: Iterable[str]) -> list[Row]:
    return [{"word": word, "hoist": hoist} for word in sorted(words)]
