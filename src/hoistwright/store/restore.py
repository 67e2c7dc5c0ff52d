"""Entering sealed entries as they are: from an export, a backup, another bench."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from sqlalchemy import Connection, Engine

from hoistwright.job.entry import EntryError, Event
from hoistwright.job.fold import further
from hoistwright.job.state import JobState
from hoistwright.store.connect import writing
from hoistwright.store.errors import ClashError, StoreError
from hoistwright.store.journal import brought_up, enter, head_of, known
from hoistwright.store.made_rows import hoist_of
from hoistwright.store.made_tables import fill, follow, register
from hoistwright.store.model import Progress

BATCH = 2000


def restore(engine: Engine, events: Iterable[Event], progress: Progress | None) -> int:
    """Enter the entries that are not there yet; how many that were. Each batch is whole."""
    entered = seen = 0
    several = iter(events)
    while batch := list(itertools.islice(several, BATCH)):
        with writing(engine) as connection:
            entered += _batch(connection, batch)
        seen += len(batch)
        if progress is not None:
            progress(seen, 0)
    return entered


def _batch(connection: Connection, batch: Sequence[Event]) -> int:
    at = head_of(connection, locked=True)
    have = known(connection, [event.id for event in batch])
    fresh = [event for event in batch if not _had(event, have.get(event.id))]
    if not fresh:
        return 0
    before = {job: brought_up(connection, job, None) for job in {event.job for event in fresh}}
    after = {job: _with(state, fresh) for job, state in before.items()}
    enter(connection, at, fresh)
    new = [after[job] for job, state in before.items() if state.seq == 0]
    fill(connection, new)
    for hoist in sorted({hoist_of(state) for state in new}):
        register(connection, hoist)
    for job, state in before.items():
        if state.seq:
            follow(connection, state, after[job])
    return len(fresh)


def _with(state: JobState, fresh: Sequence[Event]) -> JobState:
    own = [event for event in fresh if event.job == state.job]
    if own[0].seq <= state.seq:
        raise _parted(EntryError(state.job, own[0].seq, "the record has another entry there"))
    try:
        return further(state, own)
    except EntryError as error:
        raise _parted(error) from None


def _parted(error: EntryError) -> StoreError:
    return StoreError(
        f"Job {error.job}, entry {error.seq}: {error.what}. Nothing of this batch was entered: the "
        "file and the record have parted ways, or the file is damaged. Verify both."
    )


def _had(event: Event, found: Event | None) -> bool:
    if found is not None and found.hash != event.hash:
        raise ClashError(
            f"Job {event.job}, entry {event.seq}: the record has another entry with the id "
            f"{event.id}. Nothing of this batch was entered."
        )
    return found is not None
