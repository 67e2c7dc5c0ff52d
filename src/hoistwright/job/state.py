"""What a job is now: the fold of its events. Nothing in it is ever forgotten."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import TypeVar

import attrs

from hoistwright.examine.points import Address
from hoistwright.job.conflicts import Conflict, conflicts_of
from hoistwright.job.entry import BEGINNING, Event
from hoistwright.job.events import (
    BasesChosen,
    Body,
    BookedIn,
    Corrected,
    DesignChosen,
    ExaminedOn,
    ExtentChosen,
    GivenTo,
    HoldPointSigned,
    LookAnswered,
    PartChosen,
    PhotoAttached,
    ReadingEntered,
    Remarked,
    StageFinished,
    StageName,
    StageReopened,
    StepTicked,
    Topic,
    Way,
)
from hoistwright.job.events_prove import (
    ProofLooked,
    ProofMeasured,
    PullRecorded,
    TestLoadChosen,
    TestSettled,
)
from hoistwright.job.events_quote import QuoteAnswered, QuoteMade
from hoistwright.job.events_release import (
    WITHOUT_REPAIR,
    CertificateIssued,
    CertificateWithdrawn,
    ExitChosen,
)

STAGES: tuple[StageName, ...] = (
    "book in", "strip", "examine", "renew", "rebuild", "prove", "release",
)  # fmt: skip
LEFT = "left the shop"
"""Where a job is once all stages are finished."""

B = TypeVar("B", bound=Body)


@attrs.frozen(kw_only=True)
class Standing:
    """An event and what became of it: the corrections that speak of it, in order."""

    event: Event
    corrections: tuple[Event, ...] = ()
    body: Body | None = attrs.field(init=False, eq=False)
    """What it says now; None once withdrawn."""

    def __attrs_post_init__(self) -> None:
        last = self.last.body
        said = last.replacement if isinstance(last, Corrected) else last
        object.__setattr__(self, "body", said)  # asked for so often that it is kept

    @property
    def last(self) -> Event:
        """The event that spoke last: whose word now stands."""
        return self.corrections[-1] if self.corrections else self.event

    @property
    def touches(self) -> tuple[Event, ...]:
        return (self.event, *self.corrections)


@attrs.frozen(kw_only=True)
class JobState:
    """The state of one job after its entry number `seq`. All views follow from `entries`."""

    job: str
    seq: int = 0
    hash: str = BEGINNING
    """Of the last entry."""
    entries: Mapping[str, Standing] = attrs.field(factory=dict)
    """Every event that is no correction, by id, in order."""
    roots: Mapping[str, str] = attrs.field(factory=dict)
    """Id of each correction: the id of the event it speaks of in the end."""
    lost: tuple[Event, ...] = ()
    """Corrections of events that this job does not have."""
    touched: Mapping[str, datetime.datetime] = attrs.field(factory=dict)
    """Each person who worked on the job, and when last."""

    @cached_property
    def by_topic(self) -> Mapping[Topic, Standing]:
        """What stands on each topic: the latest event that is not withdrawn."""
        found: dict[Topic, Standing] = {}
        for entry in self.entries.values():
            body = entry.body
            if body is not None and body.topic:
                found[body.topic] = entry
        return found

    @cached_property
    def conflicts(self) -> tuple[Conflict, ...]:
        """Topics on which two people spoke without knowing of each other."""
        if len(self.touched) < 2:
            return ()
        return conflicts_of(
            (entry.body.topic, entry.touches) for entry in self.entries.values() if entry.body
        )

    def _one(self, cls: type[B], topic: Topic | None = None) -> B | None:
        entry = self.by_topic.get(topic or (cls.kind,))
        body = entry.body if entry else None
        return body if isinstance(body, cls) else None

    @cached_property
    def _all_by_kind(self) -> Mapping[str, list[Standing]]:
        return _by_kind(self.entries.values())

    @cached_property
    def _latest_by_kind(self) -> Mapping[str, list[Standing]]:
        return _by_kind(self.by_topic.values())

    def _all(self, cls: type[B]) -> list[tuple[B, Standing]]:
        return _bodies(cls, self._all_by_kind)

    def _latest(self, cls: type[B]) -> list[tuple[B, Standing]]:
        return _bodies(cls, self._latest_by_kind)

    # what was booked in

    @property
    def booked(self) -> BookedIn | None:
        return self._one(BookedIn)

    @property
    def design(self) -> str:
        """Key or path of the design; empty where it is not known."""
        chosen = self._one(DesignChosen)
        if chosen is not None:
            return chosen.design
        return self.booked.design if self.booked else ""

    @property
    def bases(self) -> tuple[str, ...]:
        chosen = self._one(BasesChosen)
        if chosen is not None:
            return chosen.bases
        return self.booked.bases if self.booked else ()

    @property
    def examined_on(self) -> ExaminedOn | None:
        return self._one(ExaminedOn)

    @property
    def extent(self) -> tuple[str, ...] | None:
        """Parts that the work needs off; None: all of them."""
        chosen = self._one(ExtentChosen)
        return None if chosen is None else chosen.parts

    @property
    def holder(self) -> str:
        """Key of the person who has the job."""
        given = self._one(GivenTo)
        return given.person if given else ""

    # what was entered

    @cached_property
    def readings(self) -> Mapping[Address, Standing]:
        """The reading that stands at each address."""
        return {(b.part, b.feature, b.place): e for b, e in self._latest(ReadingEntered)}

    @cached_property
    def looks(self) -> Mapping[Address, Standing]:
        """The answer that stands at each address."""
        return {(b.part, b.feature, b.place): e for b, e in self._latest(LookAnswered)}

    def history(self, topic: Topic) -> tuple[Standing, ...]:
        """Everything that ever spoke of a topic, withdrawn and corrected entries too."""
        return tuple(
            entry
            for entry in self.entries.values()
            if topic in (entry.event.body.topic, entry.body.topic if entry.body else ())
        )

    def ticks(self, way: Way) -> Mapping[str, Standing]:
        """The steps of the strip or the rebuild that are done."""
        return {b.step: e for b, e in self._latest(StepTicked) if b.way == way and b.done}

    @cached_property
    def signatures(self) -> Mapping[str, Standing]:
        """Hold points signed, by step. A tick of the step taken back later voids it."""
        out: dict[str, Standing] = {}
        for body, entry in self._latest(HoldPointSigned):
            undone = any(
                isinstance(said, StepTicked) and not said.done
                for said in self._said_after(entry.event.seq, ("step", "rebuild", body.step))
            )
            if not undone:
                out[body.step] = entry
        return out

    def _said_after(self, seq: int, topic: Topic) -> list[Body | None]:
        """What events on a topic said after entry `seq`; a withdrawn tick counts as untick."""
        said: list[Body | None] = []
        for entry in self.entries.values():
            first = entry.event.body
            if first.topic != topic or entry.last.seq <= seq:
                continue
            if entry.body is None and isinstance(first, StepTicked):
                said.append(attrs.evolve(first, done=not first.done))
            else:
                said.append(entry.body)
        return said

    @cached_property
    def choices(self) -> Mapping[str, Standing]:
        """What was decided for each part, to renew it or to leave it."""
        return {b.part: e for b, e in self._latest(PartChosen)}

    @property
    def renewed(self) -> tuple[str, ...]:
        """Parts chosen to be renewed."""
        return tuple(b.part for b, _ in self._latest(PartChosen) if b.renew)

    @property
    def remarks(self) -> tuple[Standing, ...]:
        return tuple(entry for _, entry in self._all(Remarked))

    @property
    def photos(self) -> tuple[Standing, ...]:
        return tuple(entry for _, entry in self._all(PhotoAttached))

    # quote, proof and release

    @property
    def quoted(self) -> QuoteMade | None:
        return self._one(QuoteMade)

    @property
    def answered(self) -> QuoteAnswered | None:
        """What the customer said to the quote that stands; None where it is of an older one."""
        answer = self._one(QuoteAnswered)
        current = self.quoted.number if self.quoted else ""
        return answer if answer is not None and answer.quote == current else None

    @property
    def test_load(self) -> TestLoadChosen | None:
        return self._one(TestLoadChosen)

    @cached_property
    def settled(self) -> Mapping[tuple[str, str], Standing]:
        """Who said whether a test applies, by basis and test."""
        return {(b.basis, b.test): e for b, e in self._latest(TestSettled)}

    @cached_property
    def measured(self) -> Mapping[tuple[str, str], Standing]:
        """Figures of the proof, by step and what was read."""
        return {(b.step, b.what): e for b, e in self._latest(ProofMeasured)}

    @cached_property
    def proof_looks(self) -> Mapping[str, Standing]:
        """Answers given while proving, by step."""
        return {b.step: e for b, e in self._latest(ProofLooked)}

    @property
    def pulls(self) -> tuple[Standing, ...]:
        return tuple(entry for _, entry in self._latest(PullRecorded))

    @property
    def exit(self) -> ExitChosen | None:
        return self._one(ExitChosen)

    @property
    def certificate(self) -> CertificateIssued | None:
        """The certificate that stands: issued, and not withdrawn since."""
        last = self._one(CertificateIssued)
        if last is None:
            return None
        withdrawn = self._one(
            CertificateWithdrawn, (CertificateWithdrawn.kind, last.number, str(last.revision))
        )
        return None if withdrawn else last

    # how far it is

    @cached_property
    def finished(self) -> frozenset[StageName]:
        """The stages that somebody called finished and nobody reopened."""
        done: set[StageName] = set()
        spoken = [*self._all(StageFinished), *self._all(StageReopened)]
        for body, _ in sorted(spoken, key=lambda pair: pair[1].event.seq):
            if isinstance(body, StageFinished):
                done.add(body.stage)
            elif isinstance(body, StageReopened):
                done -= set(STAGES[STAGES.index(body.stage) :])
        return frozenset(done)

    @property
    def asked(self) -> tuple[StageName, ...]:
        """The stages that this job goes through: without a repair there is nothing to prove."""
        unrepaired = self.exit is not None and self.exit.exit in WITHOUT_REPAIR
        return ("book in", "release") if unrepaired else STAGES

    @property
    def stage(self) -> str:
        """The first stage that is not finished, else LEFT."""
        return next((stage for stage in self.asked if stage not in self.finished), LEFT)

    @property
    def opened_at(self) -> datetime.datetime | None:
        first = next(iter(self.entries.values()), None)
        return first.event.at if first else None


def _by_kind(entries: Iterable[Standing]) -> dict[str, list[Standing]]:
    found: dict[str, list[Standing]] = {}
    for entry in entries:
        if entry.body is not None:
            found.setdefault(entry.body.kind, []).append(entry)
    return found


def _bodies(cls: type[B], found: Mapping[str, list[Standing]]) -> list[tuple[B, Standing]]:
    entries = found.get(cls.kind, ())
    return [(entry.body, entry) for entry in entries if isinstance(entry.body, cls)]
