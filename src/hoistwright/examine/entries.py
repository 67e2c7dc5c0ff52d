"""What a technician brings to an examination: readings, looks, gauges, circumstances."""

from __future__ import annotations

import datetime
from typing import Literal

import attrs

from hoistwright.faults import Place
from hoistwright.metrology import Gauge

Answer = Literal["in order", "defect", "not looked"]


@attrs.frozen(kw_only=True)
class Reading:
    """A measured value: one or more repeats of the same measurand, in SI.

    `place` says where on the part ("2", "section 1 along"); `unit` is the unit it was
    typed in and is shown in. `links` is the count of links of a chain gauge length.
    """

    part: str
    feature: str
    place: str = ""
    values: tuple[float, ...]
    unit: str
    gauge: str = ""
    links: int | None = None
    remark: str = ""
    by: str = ""
    source: Place = attrs.field(factory=Place, eq=False)


@attrs.frozen(kw_only=True)
class LookAnswer:
    """The answer to one look, with a remark and the name of a photo."""

    part: str
    feature: str
    place: str = ""
    answer: Answer
    remark: str = ""
    photo: str = ""
    by: str = ""
    source: Place = attrs.field(factory=Place, eq=False)


@attrs.frozen(kw_only=True)
class Circumstances:
    """Of the measuring: the day, and how far part and gauge may differ in temperature.

    2 K is common practice for parts that have lain in the shop for some hours.
    """

    day: datetime.date
    temperature_half_width: float = 2.0
    expansion: float = 11.5e-6
    """Linear expansion of steel in 1/K, the value of the GUM's example H.1."""


@attrs.frozen(kw_only=True)
class Entries:
    """Everything that was read and looked at, with the gauges of the shop by key."""

    readings: tuple[Reading, ...] = ()
    looks: tuple[LookAnswer, ...] = ()
    gauges: tuple[Gauge, ...] = ()
    circumstances: Circumstances

    def gauge(self, key: str) -> Gauge | None:
        """The shop's gauge with this key, or None."""
        return next((gauge for gauge in self.gauges if gauge.key == key), None)
