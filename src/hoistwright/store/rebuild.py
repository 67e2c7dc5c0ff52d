"""Making the tables again from the journal, in one transaction."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from sqlalchemy import Connection, Engine, func, select

from hoistwright.store.connect import writing
from hoistwright.store.journal import brought_up, head_of
from hoistwright.store.made_rows import Row
from hoistwright.store.made_tables import empty, fill, fill_register
from hoistwright.store.model import Progress
from hoistwright.store.tables import job_heads, jobs

CHUNK = 100


def rebuild(engine: Engine, progress: Progress | None) -> None:
    """Empty the made tables and fill them from the journal. Others see the old until it is done."""
    with writing(engine) as connection:
        head_of(connection, locked=True)
        empty(connection)
        total = connection.execute(select(func.count()).select_from(job_heads)).scalar_one()
        done = 0
        for chunk in chunks(connection):
            fill(connection, [brought_up(connection, job, None) for job in chunk])
            done += len(chunk)
            if progress is not None:
                progress(done, total)
        several = by_hoist(connection)
        while part := list(itertools.islice(several, 1000)):
            fill_register(connection, part)


def chunks(connection: Connection) -> Iterator[list[str]]:
    """The numbers of all jobs, some at a time."""
    after: str | None = None
    while True:
        asked = select(job_heads.c.job).order_by(job_heads.c.job).limit(CHUNK)
        if after is not None:
            asked = asked.where(job_heads.c.job > after)
        found = list(connection.execute(asked).scalars())
        if not found:
            return
        yield found
        after = found[-1]


def by_hoist(connection: Connection) -> Iterator[tuple[str, list[Row]]]:
    """Each hoist with the lines of its jobs."""
    rows = connection.execute(select(jobs).order_by(jobs.c.hoist)).mappings()
    for hoist, found in itertools.groupby(rows, key=lambda row: row["hoist"]):
        yield hoist, [dict(row) for row in found]
