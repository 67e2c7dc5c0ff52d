"""Holding the made tables against the journal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, Engine, Table, func, select

from hoistwright.job.state import JobState
from hoistwright.store.connect import reading
from hoistwright.store.journal import brought_up
from hoistwright.store.made_rows import (
    Row,
    in_order,
    job_row,
    look_rows,
    reading_rows,
    register_row,
    words_of,
)
from hoistwright.store.model import Difference, Progress
from hoistwright.store.rebuild import by_hoist, chunks
from hoistwright.store.tables import hoist_words, hoists, job_heads, jobs, looks, readings


def compare(engine: Engine, progress: Progress | None) -> tuple[Difference, ...]:
    """Every difference between the made tables and what the journal gives."""
    with reading(engine) as connection:
        found = (*_jobs(connection, progress), *_without_journal(connection))
        wrong = any(one.table == jobs.name for one in found)
        # the register follows from the lines of the jobs: of wrong ones it cannot be made
        return found if wrong else (*found, *_register(connection))


def _jobs(connection: Connection, progress: Progress | None) -> Iterator[Difference]:
    total = connection.execute(select(func.count()).select_from(job_heads)).scalar_one()
    done = 0
    for chunk in chunks(connection):
        states = [brought_up(connection, job, None) for job in chunk]
        for table, rows in _expected(states):
            asked = select(table).where(table.c.job.in_(chunk))
            stored = [dict(row) for row in connection.execute(asked).mappings()]
            yield from _differences(table, stored, rows)
        done += len(chunk)
        if progress is not None:
            progress(done, total)


def _expected(states: Sequence[JobState]) -> Iterator[tuple[Table, list[Row]]]:
    yield jobs, [job_row(state) for state in states]
    yield readings, [row for state in states for row in reading_rows(state)]
    yield looks, [row for state in states for row in look_rows(state)]


def _without_journal(connection: Connection) -> Iterator[Difference]:
    for table in (jobs, readings, looks):
        asked = select(table).where(table.c.job.not_in(select(job_heads.c.job)))
        stored = [dict(row) for row in connection.execute(asked).mappings()]
        yield from _differences(table, stored, [])


def _register(connection: Connection) -> Iterator[Difference]:
    """The register follows from the lines of the jobs, which were held against the journal."""
    stored = {row["hoist"]: dict(row) for row in connection.execute(select(hoists)).mappings()}
    for hoist, found in by_hoist(connection):
        row = register_row(hoist, in_order(found))
        had = stored.pop(hoist, None)
        yield from _differences(hoists, [had] if had else [], [row])
        asked = select(hoist_words).where(hoist_words.c.hoist == hoist)
        words = [dict(word) for word in connection.execute(asked).mappings()]
        wanted = [{"word": word, "hoist": hoist} for word in words_of(row)]
        yield from _differences(hoist_words, words, wanted)
    yield from _differences(hoists, list(stored.values()), [])
    asked = select(hoist_words).where(hoist_words.c.hoist.not_in(select(jobs.c.hoist)))
    strays = [dict(word) for word in connection.execute(asked).mappings()]
    yield from _differences(hoist_words, strays, [])


def _differences(
    table: Table, stored: Iterable[Row], expected: Iterable[Row]
) -> Iterator[Difference]:
    keys = [column.name for column in table.primary_key]
    have, want = _by_key(keys, stored), _by_key(keys, expected)
    for key in dict.fromkeys([*have, *want]):
        if have.get(key) != want.get(key):
            yield Difference(
                table=table.name,
                key=" / ".join(str(part) for part in key),
                stored=have.get(key),
                expected=want.get(key),
            )


def _by_key(keys: Sequence[str], rows: Iterable[Mapping[str, Any]]) -> dict[Any, Row]:
    return {tuple(row[key] for key in keys): dict(row) for row in rows}
