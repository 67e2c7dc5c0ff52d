"""An entry of the journal: an event with its place in the chain, sealed by a hash."""

from __future__ import annotations

import datetime
import hashlib
import json
import re
import uuid
from typing import Any

import attrs

from hoistwright.faults import FaultsError
from hoistwright.job.codec import body_of, canonical, moment_of, moment_text, plain
from hoistwright.job.events import Body

FORMAT = 1
BEGINNING = "0" * 64
"""Stands for the hash before the first entry of a job."""

MOST_CHARACTERS = 200_000
_ID = re.compile(r"[0-9A-Za-z_-]{8,64}")
_JOB = re.compile(r"\S(?:.{0,78}\S)?")
_KEYS = ["at", "before", "body", "by", "format", "id", "job", "kind", "seen", "seq", "told_at"]


class EntryError(ValueError):
    """An entry that cannot be what was written: its job, its number and what is wrong."""

    def __init__(self, job: str, seq: int, what: str) -> None:
        self.job, self.seq, self.what = job, seq, what
        super().__init__(f"job {job}, entry {seq}: {what}")


def new_id() -> str:
    """A fresh id for a draft."""
    return uuid.uuid4().hex


@attrs.frozen(kw_only=True)
class Draft:
    """An event on its way into the journal.

    `id` is made where the event is made, so that sending it twice enters it once. `seen` is
    the number of the last entry of this job that the person could know; None: all there are.
    """

    body: Body
    by: str
    id: str = attrs.Factory(new_id)
    told_at: datetime.datetime | None = None
    """The tablet's own time."""
    seen: int | None = None


@attrs.frozen(kw_only=True)
class Event:
    """A sealed entry. `text` is the canonical JSON over which `hash` was taken."""

    id: str
    job: str
    seq: int
    by: str
    at: datetime.datetime
    told_at: datetime.datetime | None
    seen: int
    body: Body = attrs.field(eq=False)
    before: str
    text: str = attrs.field(repr=False)
    hash: str

    @property
    def kind(self) -> str:
        return self.body.kind


def hash_of(text: str) -> str:
    """SHA-256 of a text's UTF-8, in hexadecimal."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def seal(draft: Draft, *, job: str, seq: int, at: datetime.datetime, before: str) -> Event:
    """The entry number `seq` of `job`, after the entry with the hash `before`.

    Raises ValueError for an id, a job or a text that no journal can hold.
    """
    _check(draft, job)
    body = body_of(draft.body.kind, plain(draft.body))  # as it will be read back: 1 becomes 1.0
    seen = seq - 1 if draft.seen is None else max(0, min(draft.seen, seq - 1))
    text = canonical(
        {
            "format": FORMAT,
            "id": draft.id,
            "job": job,
            "seq": seq,
            "by": draft.by,
            "at": moment_text(at.astimezone(datetime.UTC)),
            "told_at": None if draft.told_at is None else moment_text(draft.told_at),
            "seen": seen,
            "kind": body.kind,
            "body": plain(body),
            "before": before,
        }
    )
    if len(text) > MOST_CHARACTERS:
        raise ValueError(f"an event of {len(text)} characters; expected {MOST_CHARACTERS} at most")
    return Event(
        id=draft.id,
        job=job,
        seq=seq,
        by=draft.by,
        at=at,
        told_at=draft.told_at,
        seen=seen,
        body=body,
        before=before,
        text=text,
        hash=hash_of(text),
    )


def unseal(text: str, hash_: str, *, job: str = "", seq: int = 0) -> Event:
    """The entry in `text`, whose hash must be `hash_`. `job` and `seq` name it if it is not.

    Raises EntryError.
    """
    if hash_of(text) != hash_:
        raise EntryError(job, seq, "its text does not give its hash: it was altered")
    try:
        return _read(json.loads(text), text, hash_)
    except (ValueError, TypeError, KeyError, FaultsError) as error:
        raise EntryError(job, seq, f"it cannot be read: {error}") from None


def _read(table: dict[str, Any], text: str, hash_: str) -> Event:
    if sorted(table) != _KEYS or table["format"] != FORMAT:
        raise ValueError(f"it is not of format {FORMAT}")
    told = table["told_at"]
    return Event(
        id=table["id"],
        job=table["job"],
        seq=table["seq"],
        by=table["by"],
        at=moment_of(table["at"]),
        told_at=None if told is None else moment_of(told),
        seen=table["seen"],
        body=body_of(table["kind"], table["body"]),
        before=table["before"],
        text=text,
        hash=hash_,
    )


def same_event(draft: Draft, event: Event) -> bool:
    """True where `event` came from this draft, sent before."""
    return (
        draft.by == event.by
        and draft.told_at == event.told_at
        and draft.body.kind == event.kind
        and body_of(draft.body.kind, plain(draft.body)) == event.body
    )


def check_job(job: str) -> None:
    """Raises ValueError for what cannot be the number of a job."""
    if not _JOB.fullmatch(job) or not job.isprintable():
        raise ValueError(f"the job number {job!r}; expected 1 to 80 printable characters")


def _check(draft: Draft, job: str) -> None:
    check_job(job)
    if not _ID.fullmatch(draft.id):
        raise ValueError(
            f"the id {draft.id!r}; expected 8 to 64 letters, digits, dashes or underscores"
        )
    if not draft.by.strip():
        raise ValueError("an event by nobody; expected the key of a person of the shop")
