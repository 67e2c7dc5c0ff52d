"""From events to state. Pure: the same events give the same state, on any machine."""

from __future__ import annotations

from collections.abc import Iterable

import attrs

from hoistwright.job.entry import EntryError, Event
from hoistwright.job.events import Body, Corrected
from hoistwright.job.state import JobState, Standing


def fold(job: str, events: Iterable[Event]) -> JobState:
    """The state of `job` after these events, which must be all of it from the first on."""
    return further(JobState(job=job), events)


def further(state: JobState, events: Iterable[Event]) -> JobState:
    """The state after more events. Raises EntryError for one that does not come next."""
    entries, roots = dict(state.entries), dict(state.roots)
    touched, lost = dict(state.touched), list(state.lost)
    seq, last = state.seq, state.hash
    for event in events:
        _comes_next(event, state.job, seq, last)
        seq, last = event.seq, event.hash
        touched[event.by] = event.at
        if not isinstance(event.body, Corrected):
            entries[event.id] = Standing(event=event)
            continue
        root = roots.get(event.body.corrects, event.body.corrects)
        if root not in entries or _other_kind(entries[root].event.body, event.body):
            lost.append(event)
            continue
        roots[event.id] = root
        entry = entries[root]
        entries[root] = attrs.evolve(entry, corrections=(*entry.corrections, event))
    return JobState(
        job=state.job,
        seq=seq,
        hash=last,
        entries=entries,
        roots=roots,
        lost=tuple(lost),
        touched=touched,
    )


def refuse_lost(before: JobState, after: JobState) -> None:
    """Raises ValueError where events between the two correct what the job does not have."""
    for event in after.lost[len(before.lost) :]:
        corrects = event.body.corrects if isinstance(event.body, Corrected) else ""
        raise ValueError(
            f"a correction of {corrects!r}: job {after.job} has no such entry of the same kind; "
            "expected the id of an entry of this job"
        )


def _comes_next(event: Event, job: str, seq: int, last: str) -> None:
    if event.job != job:
        raise EntryError(job, seq + 1, f"it belongs to job {event.job}")
    if event.seq != seq + 1:
        raise EntryError(job, seq + 1, f"it is missing; entry {event.seq} follows")
    if event.before != last:
        raise EntryError(job, event.seq, "it does not follow from the entry before it")


def _other_kind(first: Body, correction: Corrected) -> bool:
    new = correction.replacement
    return new is not None and new.kind != first.kind
