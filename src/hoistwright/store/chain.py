"""Holding a journal, from a database or a file, against its chains. Pure."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import attrs

from hoistwright.job.codec import canonical
from hoistwright.job.entry import BEGINNING, hash_of
from hoistwright.store.journal import chained
from hoistwright.store.model import Damage, Harm, Head

_WITH_FILE = ("photo", "pull over time", "quote")
"""Kinds of events that speak of a stored file by its content."""


@attrs.frozen
class Raw:
    """A line of the journal as it stands, unchecked."""

    number: int
    id: str
    job: str
    seq: int
    entry: str
    hash: str
    chain: str


@attrs.define
class Chains:
    """Walks a journal from its first line, then holds it against its heads."""

    noted: Head | None = None
    last: int = 0
    stored: str = BEGINNING
    """The chain as the last line states it."""
    good: str = BEGINNING
    """The chain as it follows from the lines themselves."""
    last_of: tuple[str, int] = ("", 0)
    """Job and entry of the last line."""
    jobs: dict[str, tuple[int, str]] = attrs.Factory(dict)
    pictures: dict[str, tuple[str, int]] = attrs.Factory(dict)
    """Content hash of every photo spoken of: job and entry."""

    def walk(self, rows: Iterable[Raw]) -> Iterator[Damage]:
        """Everything that is wrong with the lines."""
        for row in rows:
            yield from self._numbers(row)
            yield from self._entry(row)
            yield from self._chain(row)
            self.last, self.last_of = row.number, (row.job, row.seq)
            yield from self._note(row)

    def heads(self, stands: Head | None, jobs: Mapping[str, tuple[int, str]]) -> Iterator[Damage]:
        """Everything that is wrong at the end: of the whole, and of each job."""
        yield from self._end(stands)
        for job in sorted({*jobs, *self.jobs}):
            yield from self._job_end(job, jobs.get(job))
        if self.noted is not None and self.noted.number > self.last:
            what = f"the journal once had {self.noted.number} entries; it ends before that"
            yield Damage(harm="cut off", number=self.last + 1, job="", seq=0, what=what)

    def witness(self, seqs: Iterable[tuple[str, int]]) -> Iterator[Damage]:
        """Entries that the list of jobs still knows of."""
        for job, seq in seqs:
            have = self.jobs.get(job, (0, ""))[0]
            yield from _gone("cut off", job, have + 1, seq, "the list of jobs still knows of it")

    def _numbers(self, row: Raw) -> Iterator[Damage]:
        if row.number == self.last + 1:
            return
        if row.number <= self.last:
            yield _of("moved", row, "its number in the journal is out of order")
        if row.number > self.last + 1:
            what = f"lines {self.last + 1} to {row.number - 1} of the journal are missing"
            yield Damage(harm="missing", number=self.last + 1, job="", seq=0, what=what)

    def _entry(self, row: Raw) -> Iterator[Damage]:
        if hash_of(row.entry) != row.hash:
            yield _of("altered", row, "its text does not give its hash: it was altered")
        table = _table(row.entry)
        if table is None:
            yield _of("altered", row, "its text cannot be read")
            self._believe(row, row.job, row.seq)
            return
        job, seq = str(table.get("job")), table.get("seq")
        filed = (table.get("id"), job, seq) == (row.id, row.job, row.seq)
        sound = hash_of(row.entry) == row.hash and isinstance(seq, int)
        job, seq = (job, int(seq or 0)) if sound else (row.job, row.seq)
        if not filed:
            what = f"filed as entry {row.seq} of job {row.job}, id {row.id}, which it is not"
            yield _of("altered", row, what, job, seq)
        yield from self._follows(row, job, seq, str(table.get("before")))
        self._believe(row, job, seq)
        self._picture(table, job, seq)

    def _follows(self, row: Raw, job: str, seq: int, before: str) -> Iterator[Damage]:
        have, hash_ = self.jobs.get(job, (0, BEGINNING))
        if seq <= have:
            yield _of("inserted", row, f"a second entry {seq} of job {job}", job, seq)
            return
        yield from _gone("missing", job, have + 1, seq - 1, "it is missing")
        if seq == have + 1 and before != hash_:
            what = f"it, or entry {have} before it, is not what was written"
            yield _of("altered", row, what, job, seq)

    def _believe(self, row: Raw, job: str, seq: int) -> None:
        if seq > self.jobs.get(job, (0, ""))[0]:
            self.jobs[job] = (seq, row.hash)

    def _picture(self, table: Mapping[str, Any], job: str, seq: int) -> None:
        body = table.get("body")
        if table.get("kind") in _WITH_FILE and isinstance(body, dict) and body.get("content"):
            self.pictures.setdefault(str(body.get("content")), (job, seq))

    def _chain(self, row: Raw) -> Iterator[Damage]:
        self.good = chained(self.good, row.hash)
        if row.chain == self.good:
            self.stored = row.chain
            return
        if row.chain == chained(self.stored, row.hash):  # the break was before this line
            self.good = self.stored = row.chain
            return
        yield _of("altered", row, "it does not follow from the line of the journal before it")
        self.stored = row.chain

    def _note(self, row: Raw) -> Iterator[Damage]:
        noted = self.noted
        if noted is not None and noted.number == row.number and noted.chain != row.chain:
            what = "the journal up to here is another than the one noted elsewhere"
            yield _of("altered", row, what)

    def _end(self, stands: Head | None) -> Iterator[Damage]:
        if stands is None:
            what = "the line that says where the journal stands is missing"
            yield self._head(what)
            return
        if stands.number > self.last:
            what = f"the journal ends at {self.last} and should at {stands.number}"
            job, seq = self.last_of
            yield Damage(harm="cut off", number=self.last + 1, job=job, seq=seq + 1, what=what)
        if stands.number < self.last:
            what = f"the journal has {self.last} lines; it says {stands.number}"
            yield self._head(what)
        elif stands.number == self.last and stands.chain not in (self.good, self.stored):
            what = "the end of the chain is not what the journal's own line says"
            yield self._head(what)

    def _head(self, what: str) -> Damage:
        job, seq = self.last_of
        return Damage(harm="head", number=self.last, job=job, seq=seq, what=what)

    def _job_end(self, job: str, stands: tuple[int, str] | None) -> Iterator[Damage]:
        seq, hash_ = self.jobs.get(job, (0, BEGINNING))
        if stands is None:
            what = "nothing says where this job stands: inserted, or its line was taken out"
            yield Damage(harm="inserted", number=0, job=job, seq=seq, what=what)
            return
        yield from _gone("cut off", job, seq + 1, stands[0], "the job ends before it")
        yield from _gone("inserted", job, stands[0] + 1, seq, f"the job had {stands[0]} entries")
        if stands[0] == seq and stands[1] != hash_:
            what = "it is not the last entry that the job is said to have"
            yield Damage(harm="altered", number=0, job=job, seq=seq, what=what)


def _gone(harm: Harm, job: str, first: int, last: int, what: str) -> Iterator[Damage]:
    """One damage for each entry from first to last; from the hundredth on, one for the rest."""
    for seq in range(first, min(last, first + 99) + 1):
        yield Damage(harm=harm, number=0, job=job, seq=seq, what=what)
    if last > first + 99:
        rest = f"{what}; so do those after it up to {last}"
        yield Damage(harm=harm, number=0, job=job, seq=first + 100, what=rest)


def _of(harm: Harm, row: Raw, what: str, job: str = "", seq: int = 0) -> Damage:
    return Damage(harm=harm, number=row.number, job=job or row.job, seq=seq or row.seq, what=what)


def _table(text: str) -> dict[str, Any] | None:
    """The entry as a table; None where it is not the one canonical text of it."""
    try:
        table = json.loads(text)
        return table if isinstance(table, dict) and canonical(table) == text else None
    except (ValueError, RecursionError):
        return None
