"""What a store can do, and the plain values it answers with."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Literal, Protocol

import attrs

from hoistwright.job.entry import Draft, Event
from hoistwright.job.state import JobState


@attrs.frozen(kw_only=True)
class Appended:
    """What became of an append. `fresh`: ids entered now; the others had been sent before."""

    job: str
    events: tuple[Event, ...]
    fresh: frozenset[str]
    state: JobState
    number: int
    """Of the last entry of the whole journal."""


@attrs.frozen(kw_only=True)
class Head:
    """Where the whole journal stands. Noted elsewhere, it proves later that nothing is gone."""

    number: int
    chain: str


@attrs.frozen(kw_only=True)
class Numbered:
    """An entry with its place in the whole journal."""

    number: int
    event: Event


@attrs.frozen(kw_only=True)
class JobRow:
    """A job in a list. Times are ISO text in UTC."""

    job: str
    hoist: str
    maker: str
    model: str
    serial: str
    tag: str
    rated_load: float | None
    customer: str
    premises: str
    design: str
    bases: str
    complaint: str
    received_on: str
    stage: str
    holder: str
    opened_at: str
    changed_at: str
    changed_by: str
    seq: int
    conflicts: int
    readings: int
    defects: int
    renewals: int
    photos: int
    decision: str = ""
    """By the certificate that stands; empty: none."""
    certificate: str = ""
    left_on: str = ""
    next_due: str = ""


@attrs.frozen(kw_only=True)
class HoistRow:
    """A hoist of the register, as it was at its last visit."""

    hoist: str
    maker: str
    model: str
    serial: str
    tag: str
    rated_load: float | None
    customer: str
    premises: str
    design: str
    last_job: str
    last_opened_at: str
    visits: int
    decision: str = ""
    """By the last certificate that stands; empty: none."""
    certificate: str = ""
    left_on: str = ""
    next_due: str = ""


@attrs.frozen(kw_only=True)
class ReadingRow:
    """A reading that stands, in SI."""

    job: str
    part: str
    feature: str
    place: str
    hoist: str
    mean: float
    repeats: str
    unit: str
    gauge: str
    links: int | None
    person: str
    entered_at: str
    seq: int


@attrs.frozen(kw_only=True)
class Attachment:
    """A stored photo or paper; `content` is the SHA-256 of its bytes. Sizes in pixels."""

    content: str
    media_type: str
    size: int
    width: int = 0
    height: int = 0


Harm = Literal["altered", "missing", "inserted", "moved", "cut off", "head", "unreadable"]


@attrs.frozen(kw_only=True)
class Damage:
    """One thing that is wrong with a stored journal. 0 and empty where it cannot be known."""

    harm: Harm
    number: int
    job: str
    seq: int
    what: str

    def __str__(self) -> str:
        where = f"job {self.job or 'not known'}, entry {self.seq or 'not known'}"
        return f"{where} (number {self.number or 'not known'} of the journal): {self.what}"


@attrs.frozen(kw_only=True)
class Difference:
    """A row of a made table that is not what the journal gives."""

    table: str
    key: str
    stored: dict[str, Any] | None
    expected: dict[str, Any] | None


class Progress(Protocol):
    """Called now and then with what is done and what there is in all (0: not known)."""

    def __call__(self, done: int, total: int, /) -> None: ...


class Store(Protocol):
    """The record of a shop. Safe to use from several threads and processes at once."""

    def append(
        self, job: str, drafts: Sequence[Draft], *, now: datetime.datetime | None = None
    ) -> Appended: ...

    def restore(self, events: Iterable[Event], *, progress: Progress | None = None) -> int: ...

    def state(self, job: str) -> JobState: ...

    def events(self, job: str, *, after: int = 0) -> tuple[Event, ...]: ...

    def since(self, number: int = 0, *, limit: int = 1000) -> tuple[Numbered, ...]: ...

    def head(self) -> Head: ...

    def job(self, job: str) -> JobRow | None: ...

    def jobs(
        self,
        *,
        stage: str | None = None,
        holder: str | None = None,
        hoist: str | None = None,
        limit: int = 200,
    ) -> tuple[JobRow, ...]: ...

    def waiting(self) -> dict[str, dict[str, int]]: ...

    def search(self, text: str, *, limit: int = 50) -> tuple[HoistRow, ...]: ...

    def hoist(self, hoist: str) -> HoistRow | None: ...

    def earlier_readings(
        self, hoist: str, *, before_job: str | None = None
    ) -> tuple[ReadingRow, ...]: ...

    def attach(self, data: bytes) -> Attachment: ...

    def attach_figures(self, data: bytes) -> Attachment: ...

    def attachment(self, content: str) -> tuple[Attachment, bytes] | None: ...

    def attachments(self) -> Iterator[tuple[Attachment, bytes]]: ...

    def verify(
        self, *, noted: Head | None = None, progress: Progress | None = None
    ) -> tuple[Damage, ...]: ...

    def rebuild(self, *, progress: Progress | None = None) -> None: ...

    def compare(self, *, progress: Progress | None = None) -> tuple[Difference, ...]: ...

    def close(self) -> None: ...
