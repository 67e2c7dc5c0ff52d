"""What is recorded while a hoist is proved, as plain values in SI. Anything may be missing."""

from __future__ import annotations

import datetime
from typing import Literal

import attrs
import numpy as np
from numpy.typing import NDArray

from hoistwright.metrology import Gauge

Floats = NDArray[np.float64]
Direction = Literal["raising", "lowering"]
Answer = Literal["yes", "no", "not looked at"]


@attrs.frozen(kw_only=True)
class Readings:
    """Repeated readings of one quantity with one gauge. `readings` in SI."""

    readings: tuple[float, ...]
    gauge: Gauge | None = None

    @property
    def mean(self) -> float:
        return sum(self.readings) / len(self.readings) if self.readings else float("nan")


@attrs.frozen(kw_only=True)
class Pull:
    """Steady pull on hand chain or lever grip, N, with `load` kg on the hook."""

    pull: Readings
    load: float
    direction: Direction = "raising"
    speed: float | None = None
    """Speed of the hand, m/s, where it was noted."""


@attrs.frozen(eq=False, kw_only=True)
class PullSeries:
    """Pull over time, from a load cell: s, N, and where known the path of the hand, m."""

    time: Floats
    pull: Floats
    load: float
    direction: Direction = "raising"
    travel: Floats | None = None
    gauge: Gauge | None = None
    source: str = ""


@attrs.frozen(kw_only=True)
class Hold:
    """The load held after a little lowering: for `seconds`, and how far it sank, m.

    `held` is false where it ran away and no creep could be read.
    """

    seconds: float
    load: float
    creep: Readings | None = None
    held: bool = True


@attrs.frozen(kw_only=True)
class Clicks:
    """Pawl clicks counted over a lift of so many m; `pawls_heard`: how many were told apart."""

    count: int
    lift: Readings
    pawls_heard: int | None = None


@attrs.frozen(kw_only=True)
class Strokes:
    """Strokes of the lever counted over a lift of so many m."""

    count: int
    lift: Readings


@attrs.frozen(kw_only=True)
class Travel:
    """Path of the hand over the lift it made, m."""

    hand: Readings
    lift: Readings


@attrs.frozen(kw_only=True)
class CoverTemperature:
    """Brake cover before and after lowering over `lift` m, K."""

    before: float
    after: float
    lift: float


@attrs.frozen(kw_only=True)
class Slip:
    """Load at which the overload limiter slipped, kg, or did not (`slipped` false)."""

    load: Readings
    slipped: bool = True


@attrs.frozen(kw_only=True)
class ProofLook:
    """The answer to one step's question, and by whom."""

    key: str
    answer: Answer
    by: str = ""
    remark: str = ""


@attrs.frozen(eq=False, kw_only=True)
class ProofRecord:
    """Everything recorded on one day of proving."""

    day: datetime.date
    pulls: tuple[Pull, ...] = ()
    series: tuple[PullSeries, ...] = ()
    hold: Hold | None = None
    clicks: Clicks | None = None
    travel: Travel | None = None
    strokes: Strokes | None = None
    cover: CoverTemperature | None = None
    slip: Slip | None = None
    free_play: Readings | None = None
    """Axial play of the hand wheel on its thread, brake open, m."""
    stop_drop: Readings | None = None
    """How far the load sinks when lowering stops, until the brake holds, m."""
    looks: tuple[ProofLook, ...] = ()
    remarks: tuple[str, ...] = ()

    def look(self, key: str) -> Answer:
        """The answer to a look; "not looked at" where there is none. The last answer counts."""
        found = [look.answer for look in self.looks if look.key == key]
        return found[-1] if found else "not looked at"
