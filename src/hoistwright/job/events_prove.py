"""What can happen while the rebuilt hoist is proved. Figures in SI, as in all the journal."""

from __future__ import annotations

import datetime
import math
from typing import ClassVar, Literal

import attrs

from hoistwright.job.body import Body, Topic

LoadBy = Literal["weights", "test bed"]
ProofAnswer = Literal["yes", "no", "not looked at"]
Measured = Literal[
    "pull up",
    "pull down",
    "hand speed",
    "hold time",
    "creep",
    "clicks",
    "pawls heard",
    "lift",
    "hand path",
    "strokes",
    "cover before",
    "cover after",
    "slip load",
    "free play",
    "stop drop",
    "bed reading",
]
"""Kinds of figures that a proof records: N, m/s, s, m, pieces, K, kg; `values` in SI."""


@attrs.frozen(kw_only=True)
class TestSettled(Body):
    """A competent person says whether a test of a basis applies, where its words leave it open."""

    __test__ = False  # not a test, whatever its name
    kind: ClassVar[str] = "test settled"

    basis: str
    test: str
    applies: bool
    reason: str
    load_from: float | None = None
    """With `basis` empty: a load test that the person asks for where no basis names a load.
    Least and greatest load as shares of the rated load, hold in s."""
    load_to: float | None = None
    hold: float | None = None

    @property
    def topic(self) -> Topic:
        return self.kind, self.basis, self.test


@attrs.frozen(kw_only=True)
class Hung:
    """One kind of test weight on the hook, and how many of it."""

    weight: str
    """Key of the shop's test weight."""
    count: int
    mass: float | None = None
    """Of one piece as marked when it was hung, kg; likewise what follows."""
    uncertainty: float | None = None
    """Expanded, k = 2, kg."""
    due_on: datetime.date | None = None


@attrs.frozen(kw_only=True)
class TestLoadChosen(Body):
    """What is hung on for the load test: marked weights with tackle, or a test bed's reading."""

    __test__ = False
    kind: ClassVar[str] = "test load"

    by: LoadBy
    hung: tuple[Hung, ...] = ()
    tackle: float = 0.0
    """Slings and shackles on the hook, kg."""
    tackle_uncertainty: float = 0.0
    """Expanded, k = 2, kg."""
    bed_reading: float | None = None
    """What the bed's instrument is to show, kg."""
    gauge: str = ""
    """Key of the bed's load cell or gauge."""
    floor: float | None = None
    """What the floor carries where it was tested, kg; None: not said. Likewise the next two."""
    frame: float | None = None
    piece: float | None = None

    @property
    def topic(self) -> Topic:
        return (self.kind,)


@attrs.frozen(kw_only=True)
class ProofMeasured(Body):
    """A figure read at a step of the proof; `load` in kg is what hung on the hook."""

    kind: ClassVar[str] = "proof reading"

    step: str
    what: Measured
    values: tuple[float, ...]
    unit: str
    """The unit it was typed in."""
    gauge: str = ""
    load: float | None = None
    remark: str = ""

    def __attrs_post_init__(self) -> None:
        if not self.values or not all(math.isfinite(value) for value in self.values):
            raise ValueError(f"a proof reading of {self.what} that is no number; expected one")

    @property
    def topic(self) -> Topic:
        return self.kind, self.step, self.what


@attrs.frozen(kw_only=True)
class ProofLooked(Body):
    """The answer to a step's question; at a hold point it is that person's signature, too."""

    kind: ClassVar[str] = "proof look"

    step: str
    look: str
    answer: ProofAnswer
    text: str = ""
    """The question as it stood."""
    ran: bool = False
    """With the answer "no": the load ran or crept."""
    remark: str = ""

    @property
    def topic(self) -> Topic:
        return self.kind, self.step


@attrs.frozen(kw_only=True)
class PullRecorded(Body):
    """A pull over time from a load cell. `content` is the SHA-256 of the stored CSV text."""

    kind: ClassVar[str] = "pull over time"

    step: str
    content: str
    direction: Literal["raising", "lowering"]
    load: float
    gauge: str = ""

    @property
    def topic(self) -> Topic:
        return self.kind, self.step, self.direction
