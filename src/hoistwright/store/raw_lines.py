"""The journal's lines as they stand, for an export."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import Engine, select

from hoistwright.store.chain import Raw
from hoistwright.store.connect import reading
from hoistwright.store.errors import JournalError
from hoistwright.store.tables import head, journal

FIRST = {"hoistwright": "record", "format": 1}
"""The first line of an export."""

MOST_LINE = 64_000_000
"""Bytes in one line of an export: an attachment as text is the longest."""

_STEP = 2000


def entry_rows(engine: Engine) -> Iterator[Raw]:
    """Every line up to where the journal stands now, in order."""
    with reading(engine) as connection:
        last = connection.execute(select(head.c.number)).scalar_one()
    after = 0
    while after < last:
        with reading(engine) as connection:
            asked = select(journal).where(journal.c.number > after, journal.c.number <= last)
            rows = connection.execute(asked.order_by(journal.c.number).limit(_STEP)).all()
        if not rows:
            raise JournalError(f"The journal ends at {after} and should at {last}: verify it.")
        for row in rows:
            yield Raw(row.number, row.id, row.job, row.seq, row.entry, row.hash, row.chain)
        after = rows[-1].number
