"""Verifying a stored journal: every line, every head, every attachment."""

from __future__ import annotations

import hashlib
import itertools
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import Connection, Engine, func, select, text

from hoistwright.store.attachments import every
from hoistwright.store.chain import Chains, Raw
from hoistwright.store.connect import reading
from hoistwright.store.errors import JournalError
from hoistwright.store.model import Damage, Head, Progress
from hoistwright.store.tables import head, job_heads, jobs, journal

MOST = 10_000
"""Damages told; there is no use in more."""

_STEP = 2000


def verify_store(
    engine: Engine, noted: Head | None, progress: Progress | None
) -> tuple[Damage, ...]:
    """Everything that is wrong, at most MOST of it."""
    found: list[Damage] = []
    try:
        with reading(engine) as connection:
            found += verify_in(connection, chains := Chains(noted), progress)
        found.extend(_attachments(engine, chains))
    except JournalError as error:
        found.append(Damage(harm="unreadable", number=0, job="", seq=0, what=str(error)))
    return tuple(found)


def verify_in(
    connection: Connection, chains: Chains, progress: Progress | None = None
) -> list[Damage]:
    """Everything that is wrong with the journal as one transaction sees it."""
    with _any_bytes(connection):
        return list(itertools.islice(_all(connection, progress, chains), MOST))


def _all(connection: Connection, progress: Progress | None, chains: Chains) -> Iterator[Damage]:
    yield from chains.walk(_rows(connection, progress))
    stands = connection.execute(select(head.c.number, head.c.chain)).first()
    ends = connection.execute(select(job_heads.c.job, job_heads.c.seq, job_heads.c.hash))
    yield from chains.heads(
        Head(number=_number(stands.number), chain=_text(stands.chain)) if stands else None,
        {_text(row.job): (_number(row.seq), _text(row.hash)) for row in ends},
    )
    said = connection.execute(select(jobs.c.job, jobs.c.seq))
    yield from chains.witness((_text(row.job), _number(row.seq)) for row in said)
    yield from _file(connection)


def _rows(connection: Connection, progress: Progress | None) -> Iterator[Raw]:
    total = connection.execute(select(func.count()).select_from(journal)).scalar_one()
    done, after = 0, None
    while True:
        asked = select(journal).order_by(journal.c.number).limit(_STEP)
        if after is not None:
            asked = asked.where(journal.c.number > after)
        rows = connection.execute(asked).all()
        for row in rows:
            yield Raw(
                number=row.number,
                id=_text(row.id),
                job=_text(row.job),
                seq=_number(row.seq),
                entry=_text(row.entry),
                hash=_text(row.hash),
                chain=_text(row.chain),
            )
        done += len(rows)
        if progress is not None:
            progress(done, total)
        if len(rows) < _STEP:
            return
        after = rows[-1].number


def _text(value: object) -> str:
    """A flipped bit can make a text something else: then it says what it is, and fits nothing."""
    return value if isinstance(value, str) else repr(value)


def _number(value: object) -> int:
    return value if isinstance(value, int) else 0


def _file(connection: Connection) -> Iterator[Damage]:
    """SQLite's own look at its file: pages, and indexes that do not agree with their tables."""
    if connection.dialect.name != "sqlite":
        return
    for (said,) in connection.execute(text("PRAGMA integrity_check(20)")):
        if said != "ok":
            yield Damage(harm="unreadable", number=0, job="", seq=0, what=f"the file: {said}")


def _attachments(engine: Engine, chains: Chains) -> Iterator[Damage]:
    spoken = dict(chains.pictures)
    for about, data in every(engine):
        job, seq = spoken.pop(about.content, ("", 0))
        if hashlib.sha256(data).hexdigest() != about.content or len(data) != about.size:
            what = f"its attachment {about.content[:12]} was altered"
            yield Damage(harm="altered", number=0, job=job, seq=seq, what=what)
    for content, (job, seq) in spoken.items():
        what = f"its attachment {content[:12]} is missing"
        yield Damage(harm="missing", number=0, job=job, seq=seq, what=what)


@contextmanager
def _any_bytes(connection: Connection) -> Iterator[None]:
    """Lets SQLite hand out texts whose bytes are no UTF-8 any more, so that they can be named."""
    raw = connection.connection.dbapi_connection
    if connection.dialect.name != "sqlite" or raw is None:
        yield
        return
    raw.text_factory = lambda data: data.decode("utf-8", "surrogateescape")
    try:
        yield
    finally:
        raw.text_factory = str
