"""Reading and growing the journal inside one transaction."""

from __future__ import annotations

import datetime
import hashlib
from collections.abc import Iterable, Sequence
from typing import Any

from sqlalchemy import Connection, bindparam, insert, select, update

from hoistwright.job.entry import BEGINNING, Draft, EntryError, Event, same_event, seal, unseal
from hoistwright.job.fold import further
from hoistwright.job.state import JobState
from hoistwright.store.errors import ClashError, JournalError
from hoistwright.store.model import Head, Numbered
from hoistwright.store.tables import head, job_heads, journal
from hoistwright.store.upsert import put

_HEAD = select(head.c.number, head.c.chain).where(head.c.one == 1)
_HEAD_LOCKED = _HEAD.with_for_update()
_JOB_HEAD = select(job_heads.c.seq, job_heads.c.hash).where(job_heads.c.job == bindparam("j"))
_BY_ID = select(journal.c.job, journal.c.seq, journal.c.entry, journal.c.hash).where(
    journal.c.id.in_(bindparam("ids", expanding=True))
)
_OF_JOB = (
    select(journal.c.seq, journal.c.entry, journal.c.hash)
    .where(journal.c.job == bindparam("j"), journal.c.seq > bindparam("after"))
    .order_by(journal.c.seq)
)
_SINCE = (
    select(journal.c.number, journal.c.job, journal.c.seq, journal.c.entry, journal.c.hash)
    .where(journal.c.number > bindparam("after"))
    .order_by(journal.c.number)
    .limit(bindparam("most"))
)
_ENTER = insert(journal)
_SET_HEAD = update(head).where(head.c.one == 1)


def chained(chain: str, hash_: str) -> str:
    """The chain over all jobs after one more entry: SHA-256 of both, written one after the other.

    >>> chained("0" * 64, "0" * 64)[:8]
    '45725791'
    """
    return hashlib.sha256((chain + hash_).encode("ascii", "replace")).hexdigest()


def head_of(connection: Connection, *, locked: bool = False) -> Head:
    """Where the journal stands. Locked: nobody else appends until this transaction ends."""
    found = connection.execute(_HEAD_LOCKED if locked else _HEAD).one_or_none()
    if found is None:
        raise JournalError("The row that says where the journal stands is gone: verify it.")
    return Head(number=found.number, chain=found.chain)


def job_head(connection: Connection, job: str) -> tuple[int, str]:
    """Number and hash of the last entry of a job."""
    found = connection.execute(_JOB_HEAD, {"j": job}).one_or_none()
    return (found.seq, found.hash) if found else (0, BEGINNING)


def events_of(connection: Connection, job: str, after: int = 0) -> tuple[Event, ...]:
    """The entries of a job after one, each held against its hash."""
    rows = connection.execute(_OF_JOB, {"j": job, "after": after}).all()
    return tuple(_unsealed(row.entry, row.hash, job, row.seq) for row in rows)


def events_since(connection: Connection, number: int, limit: int) -> tuple[Numbered, ...]:
    """The entries of all jobs after a number of the journal."""
    rows = connection.execute(_SINCE, {"after": number, "most": limit}).all()
    return tuple(
        Numbered(number=row.number, event=_unsealed(row.entry, row.hash, row.job, row.seq))
        for row in rows
    )


def known(connection: Connection, ids: Sequence[str]) -> dict[str, Event]:
    """Those of these ids that the journal has."""
    out: dict[str, Event] = {}
    for start in range(0, len(ids), 500):
        rows = connection.execute(_BY_ID, {"ids": list(ids[start : start + 500])}).all()
        for row in rows:
            event = _unsealed(row.entry, row.hash, row.job, row.seq)
            out[event.id] = event
    return out


def brought_up(connection: Connection, job: str, held: JobState | None) -> JobState:
    """The state of a job as the journal now has it; `held` is a state known from before."""
    seq, hash_ = job_head(connection, job)
    if held is not None and (held.seq, held.hash) == (seq, hash_):
        return held
    state = held if held is not None and held.seq < seq else JobState(job=job)
    try:
        state = further(state, events_of(connection, job, state.seq))
    except EntryError as error:
        if state.seq and held is not None:  # the held one may be of a store since restored
            return brought_up(connection, job, None)
        raise damaged(error) from None
    if (state.seq, state.hash) != (seq, hash_):
        raise damaged(EntryError(job, state.seq + 1, f"it is missing; {seq} were entered"))
    return state


def sort_out(
    job: str, drafts: Sequence[Draft], have: dict[str, Event]
) -> tuple[list[Draft], list[Event]]:
    """Which drafts are new, and the entries of those sent before. Raises ClashError."""
    fresh: dict[str, Draft] = {}
    before: list[Event] = []
    for draft in drafts:
        event = have.get(draft.id)
        if event is not None:
            if event.job != job or not same_event(draft, event):
                raise ClashError(
                    f"The id {draft.id} is that of entry {event.seq} of job {event.job}, which "
                    "says something else. Nothing was saved: give this entry an id of its own."
                )
            before.append(event)
        elif draft.id in fresh and fresh[draft.id] != draft:
            raise ClashError(
                f"The id {draft.id} stands at two different entries of what was sent. Nothing "
                "was saved: give each an id of its own."
            )
        else:
            fresh[draft.id] = draft
    return list(fresh.values()), before


def sealed(state: JobState, drafts: Iterable[Draft], at: datetime.datetime) -> list[Event]:
    """The drafts as the next entries of the job."""
    events: list[Event] = []
    seq, before = state.seq, state.hash
    for draft in drafts:
        seq += 1
        known_to = state.seq if draft.seen is None else draft.seen
        event = seal(
            draft if draft.seen == known_to else _seen(draft, known_to),
            job=state.job,
            seq=seq,
            at=at,
            before=before,
        )
        events.append(event)
        before = event.hash
    return events


def enter(connection: Connection, at: Head, events: Sequence[Event]) -> Head:
    """Write entries, of any jobs, at the end of the journal; where it then stands."""
    number, chain = at.number, at.chain
    rows: list[dict[str, Any]] = []
    last: dict[str, Event] = {}
    for event in events:
        number, chain = number + 1, chained(chain, event.hash)
        last[event.job] = event
        rows.append(
            {
                "number": number,
                "id": event.id,
                "job": event.job,
                "seq": event.seq,
                "entry": event.text,
                "hash": event.hash,
                "chain": chain,
            }
        )
    connection.execute(_ENTER, rows)
    stands = [{"job": e.job, "seq": e.seq, "hash": e.hash} for e in last.values()]
    put(connection, job_heads, stands)
    connection.execute(_SET_HEAD, {"number": number, "chain": chain})
    return Head(number=number, chain=chain)


def damaged(error: EntryError) -> JournalError:
    """An entry that is not what was written, as a fault of the journal."""
    return JournalError(
        f"The journal is damaged at job {error.job}, entry {error.seq}: {error.what}. Keep the "
        "database as it is, verify it, and restore the last backup beside it."
    )


def _unsealed(text: str, hash_: str, job: str, seq: int) -> Event:
    try:
        return unseal(text, hash_, job=job, seq=seq)
    except EntryError as error:
        raise damaged(error) from None


def _seen(draft: Draft, seen: int) -> Draft:
    return Draft(body=draft.body, by=draft.by, id=draft.id, told_at=draft.told_at, seen=seen)
