"""Questions to the made tables: what waits for whom, the register, earlier readings."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, Select, exists, func, select

from hoistwright.job.hoist_key import tokens
from hoistwright.store.model import HoistRow, JobRow, ReadingRow
from hoistwright.store.tables import hoist_words, hoists, jobs, readings

MOST_WORDS = 6
_CANDIDATES = 400
_COUNTED = 2000
_LAST = "\U0010ffff"


def job_line(connection: Connection, job: str) -> JobRow | None:
    row = connection.execute(select(jobs).where(jobs.c.job == job)).mappings().one_or_none()
    return JobRow(**row) if row else None


def job_lines(
    connection: Connection,
    stage: str | None,
    holder: str | None,
    hoist: str | None,
    limit: int,
) -> tuple[JobRow, ...]:
    """Jobs, the longest here first; a hoist's jobs the latest first."""
    asked: Select[Any] = select(jobs)
    for column, wanted in ((jobs.c.stage, stage), (jobs.c.holder, holder), (jobs.c.hoist, hoist)):
        if wanted is not None:
            asked = asked.where(column == wanted)
    if hoist is not None:
        asked = asked.order_by(jobs.c.opened_at.desc(), jobs.c.job.desc())
    else:
        asked = asked.order_by(jobs.c.opened_at, jobs.c.job)
    found = connection.execute(asked.limit(limit)).mappings()
    return tuple(JobRow(**row) for row in found)


def counts(connection: Connection) -> dict[str, dict[str, int]]:
    """How many jobs wait at each stage, by who has them ("" for nobody)."""
    asked = select(jobs.c.stage, jobs.c.holder, func.count()).group_by(jobs.c.stage, jobs.c.holder)
    out: dict[str, dict[str, int]] = {}
    for stage, holder, count in connection.execute(asked.order_by(jobs.c.stage, jobs.c.holder)):
        out.setdefault(stage, {})[holder] = count
    return out


def found_hoists(connection: Connection, text: str, limit: int) -> tuple[HoistRow, ...]:
    """Hoists whose words begin with every word typed; those that match best come first."""
    typed = _rarest_first(connection, sorted(set(tokens(text)))[:MOST_WORDS])
    if not typed:
        return ()
    asked = select(hoists).where(hoists.c.hoist.in_(_matching(typed)))
    rows = [HoistRow(**row) for row in connection.execute(asked).mappings()]
    rows.sort(key=lambda row: (-_closeness(row, typed), row.serial, row.hoist))
    return tuple(rows[:limit])


def _rarest_first(connection: Connection, typed: list[str]) -> list[str]:
    """Words in the order of how many hits they have, counted no further than needed."""
    if len(typed) < 2:
        return typed
    hits: dict[str, int] = {}
    for word in typed:
        some = select(hoist_words.c.hoist).where(*_begins(hoist_words.c.word, word))
        counted = select(func.count()).select_from(some.limit(_COUNTED).subquery())
        hits[word] = connection.execute(counted).scalar_one()
    return sorted(typed, key=lambda word: (hits[word], -len(word), word))


def _matching(typed: Sequence[str]) -> Select[Any]:
    """Keys of hoists with a word that begins with each of those typed.

    The first word typed is walked along the index; each hit is held against the others.
    """
    first = hoist_words.alias("first")
    asked = select(first.c.hoist).where(*_begins(first.c.word, typed[0]))
    for at, word in enumerate(typed[1:]):
        other = hoist_words.alias(f"other_{at}")
        asked = asked.where(
            exists().where(other.c.hoist == first.c.hoist, *_begins(other.c.word, word))
        )
    return asked.order_by(first.c.word, first.c.hoist).limit(_CANDIDATES)


def _begins(column: Any, word: str) -> tuple[Any, Any]:
    return column >= word, column < word + _LAST


def _closeness(row: HoistRow, typed: Sequence[str]) -> int:
    """A whole serial number or tag before part of one, that before a name."""
    score = 0
    for text, weight in ((row.serial, 8), (row.tag, 6), (row.customer, 2)):
        words = tokens(text)
        whole = "".join(words)
        for word in typed:
            if word == whole:
                score += 2 * weight
            elif word in words:
                score += weight
    return score


def hoist_line(connection: Connection, hoist: str) -> HoistRow | None:
    asked = select(hoists).where(hoists.c.hoist == hoist)
    row = connection.execute(asked).mappings().one_or_none()
    return HoistRow(**row) if row else None


def readings_before(
    connection: Connection, hoist: str, before_job: str | None
) -> tuple[ReadingRow, ...]:
    """A hoist's readings from the first visit on; up to and without one job where it is named."""
    asked = (
        select(readings)
        .join(jobs, jobs.c.job == readings.c.job)
        .where(readings.c.hoist == hoist)
        .order_by(jobs.c.opened_at, readings.c.job, readings.c.seq)
    )
    if before_job is not None:
        line = job_line(connection, before_job)
        asked = asked.where(readings.c.job != before_job)
        if line is not None:
            asked = asked.where(jobs.c.opened_at <= line.opened_at)
    return tuple(ReadingRow(**row) for row in connection.execute(asked).mappings())
