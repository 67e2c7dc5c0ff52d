"""What can happen in a job. One class for each kind of event; none of them is ever changed."""

from __future__ import annotations

import datetime
import math
from typing import ClassVar, Literal

import attrs

from hoistwright.examine.entries import Answer
from hoistwright.job import events_prove, events_quote, events_release
from hoistwright.job.body import Body as Body  # noqa: PLC0414 - taken from here by others
from hoistwright.job.body import Topic as Topic  # noqa: PLC0414
from hoistwright.job.job_sheet import Customer, HoistIdentity, ServiceClass

Way = Literal["strip", "rebuild"]
StageName = Literal["book in", "strip", "examine", "renew", "rebuild", "prove", "release"]
MOST_REPEATS = 100


@attrs.frozen(kw_only=True)
class BookedIn(Body):
    """The hoist has come in. `design` is a key or path of a design file; empty: not known yet."""

    kind: ClassVar[str] = "booked in"

    hoist: HoistIdentity
    customer: Customer
    design: str = ""
    bases: tuple[str, ...] = ()
    complaint: str = ""
    found: str = ""
    """The as-found function check, in words."""
    received_on: datetime.date | None = None
    last_examined_on: datetime.date | None = None
    service: ServiceClass = "normal"
    units: Literal["mm", "in"] = "mm"

    @property
    def topic(self) -> Topic:
        return (self.kind,)


@attrs.frozen(kw_only=True)
class DesignChosen(Body):
    kind: ClassVar[str] = "design chosen"

    design: str
    reason: str = ""

    @property
    def topic(self) -> Topic:
        return (self.kind,)


@attrs.frozen(kw_only=True)
class BasesChosen(Body):
    kind: ClassVar[str] = "bases chosen"

    bases: tuple[str, ...]
    reason: str = ""

    @property
    def topic(self) -> Topic:
        return (self.kind,)


@attrs.frozen(kw_only=True)
class ExaminedOn(Body):
    """The day that gauges and limits are held against, and how warm it was at the bench."""

    kind: ClassVar[str] = "examined on"

    day: datetime.date
    temperature_half_width: float = 2.0

    @property
    def topic(self) -> Topic:
        return (self.kind,)


@attrs.frozen(kw_only=True)
class ExtentChosen(Body):
    """Which parts the work needs off. Without this event the hoist is stripped fully."""

    kind: ClassVar[str] = "extent chosen"

    parts: tuple[str, ...]
    reason: str = ""

    @property
    def topic(self) -> Topic:
        return (self.kind,)


@attrs.frozen(kw_only=True)
class ReadingEntered(Body):
    """A reading in SI, one or more repeats. `unit` is the unit it was typed in."""

    kind: ClassVar[str] = "reading"

    part: str
    feature: str
    place: str = ""
    values: tuple[float, ...]
    unit: str
    gauge: str = ""
    links: int | None = None
    remark: str = ""

    def __attrs_post_init__(self) -> None:
        if not 1 <= len(self.values) <= MOST_REPEATS:
            raise ValueError(
                f"a reading of {self.part} {self.feature} with {len(self.values)} values; "
                f"expected 1 to {MOST_REPEATS}"
            )
        if not all(math.isfinite(value) for value in self.values):
            raise ValueError(
                f"a reading of {self.part} {self.feature} that is no finite number; expected one"
            )

    @property
    def topic(self) -> Topic:
        return self.kind, self.part, self.feature, self.place


@attrs.frozen(kw_only=True)
class LookAnswered(Body):
    kind: ClassVar[str] = "look"

    part: str
    feature: str
    place: str = ""
    answer: Answer
    remark: str = ""
    photo: str = ""
    """Content hash of a photo that shows it."""

    @property
    def topic(self) -> Topic:
        return self.kind, self.part, self.feature, self.place


@attrs.frozen(kw_only=True)
class StepTicked(Body):
    """A step of the strip or rebuild plan is done; with `done` false it is not, after all."""

    kind: ClassVar[str] = "step"

    way: Way
    step: str
    done: bool = True

    @property
    def topic(self) -> Topic:
        return self.kind, self.way, self.step


@attrs.frozen(kw_only=True)
class HoldPointSigned(Body):
    """The person of the event has seen what the hold point of a rebuild step asks for."""

    kind: ClassVar[str] = "hold point"

    step: str
    text: str
    """What was signed, as it stood."""

    @property
    def topic(self) -> Topic:
        return self.kind, self.step


@attrs.frozen(kw_only=True)
class PartChosen(Body):
    """A part is to be renewed; with `renew` false it stays, and `reason` says why."""

    kind: ClassVar[str] = "part choice"

    part: str
    renew: bool = True
    reason: str = ""
    trace: str = ""
    """Of the new part: its number, batch, heat or certificate, so that it can be recalled."""

    @property
    def topic(self) -> Topic:
        return self.kind, self.part


@attrs.frozen(kw_only=True)
class Remarked(Body):
    kind: ClassVar[str] = "remark"

    text: str
    part: str = ""


@attrs.frozen(kw_only=True)
class PhotoAttached(Body):
    """A photo or paper. `content` is the SHA-256 of the stored file, in hexadecimal."""

    kind: ClassVar[str] = "photo"

    content: str
    media_type: str
    part: str = ""
    feature: str = ""
    place: str = ""
    caption: str = ""


@attrs.frozen(kw_only=True)
class GivenTo(Body):
    """Who has the job from now on; nobody where `person` is empty."""

    kind: ClassVar[str] = "given to"

    person: str

    @property
    def topic(self) -> Topic:
        return (self.kind,)


@attrs.frozen(kw_only=True)
class StageFinished(Body):
    kind: ClassVar[str] = "stage finished"

    stage: StageName


@attrs.frozen(kw_only=True)
class StageReopened(Body):
    """The stage and those after it are open again."""

    kind: ClassVar[str] = "stage reopened"

    stage: StageName
    reason: str = ""


@attrs.frozen(kw_only=True)
class Corrected(Body):
    """In place of the event `corrects` stands `replacement`; None withdraws it.

    The replacement is of the same kind. A correction may be corrected again: then both speak
    of the first event, and the later one stands.
    """

    kind: ClassVar[str] = "correction"

    corrects: str
    replacement: Body | None = None
    reason: str = ""


_MORE = (events_quote, events_prove, events_release)
"""Modules whose events belong to the kinds, too."""

KINDS: dict[str, type[Body]] = {cls.kind: cls for cls in Body.__subclasses__()}
