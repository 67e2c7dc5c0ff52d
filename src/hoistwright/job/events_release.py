"""How a hoist leaves: what was decided, what was signed, and what was taken back."""

from __future__ import annotations

import datetime
from typing import ClassVar, Literal, get_args

import attrs

from hoistwright.job.body import Body, Topic
from hoistwright.prove.release import Exit

WITHOUT_REPAIR: tuple[Exit, ...] = ("returned unrepaired", "condemned")
"""Exits that need no finished rebuild and no proof."""


Occasion = Literal[
    "first examination after installation",
    "first examination in a new place",
    "within 6 months",
    "within 12 months",
    "examination scheme",
    "exceptional circumstances",
]
"""Which kind of examination it was: the kinds of LOLER 1998, Schedule 1, paragraphs 6 and 7."""
OCCASIONS: tuple[Occasion, ...] = get_args(Occasion)


@attrs.frozen(kw_only=True)
class ExitChosen(Body):
    """How the hoist is to leave, and what its certificate is to say besides what was found.

    Which fields must be filled depends on the exit.
    """

    kind: ClassVar[str] = "exit"

    exit: Exit
    reason: str = ""
    lowered_to: float | None = None
    """The lower rated load, kg."""
    allowed_by: str = ""
    """Source and clause that allow a lower rated load."""
    plate_changed: bool = False
    marked: bool = False
    """Marked as not to be used."""
    customer_told: bool = False
    made_unusable: str = ""
    """How: "load sheave sawn through"."""
    made_unusable_by: str = ""
    plate_removed: bool = False
    occasion: Occasion = "within 12 months"
    installed_correctly: bool | None = None
    """Asked of a first examination."""
    configuration: str = ""
    deviations: str = ""
    """Departures from the usual way of examining or testing."""
    from_others: str = ""
    """Results that somebody outside the shop provided."""
    remarks: str = ""
    next_due: datetime.date | None = None
    """Sooner than the basis and wear ask for; None: as they ask."""
    why_due: str = ""

    @property
    def topic(self) -> Topic:
        return (self.kind,)


@attrs.frozen(kw_only=True)
class CertificateIssued(Body):
    """A certificate was signed. `content` is the SHA-256 of the stored, signed PDF.

    Empty where it was signed on paper: then there is no file.
    """

    kind: ClassVar[str] = "certificate"

    number: str
    revision: int
    content: str
    decision: Exit
    rated_load: float
    """What the hoist may lift from now on, kg; 0 where it may lift nothing."""
    issued_on: datetime.date
    next_due: datetime.date | None = None
    why_due: str = ""
    code: str = ""
    """The text of the code on certificate and tag."""

    @property
    def topic(self) -> Topic:
        return (self.kind,)


@attrs.frozen(kw_only=True)
class CertificateWithdrawn(Body):
    """A certificate no longer stands. `content`: the stored, signed statement."""

    kind: ClassVar[str] = "certificate withdrawn"

    number: str
    revision: int
    reason: str
    content: str = ""

    @property
    def topic(self) -> Topic:
        return self.kind, self.number, str(self.revision)
