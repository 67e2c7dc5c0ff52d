"""The wear history of one measured feature on one hoist, as plain values."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import attrs

GroupPath = tuple[str, ...]
"""From the widest group to the narrowest, for example ("ardle-2000", "heavy duty")."""


@attrs.frozen(kw_only=True)
class WearReading:
    """One reading. `time` counts from any fixed day, in years or in lifts (one of the two for
    all series of a fit). A `value` of NaN is a visit at which the feature was not read.
    """

    time: float
    value: float
    uncertainty: float
    """Standard uncertainty, same unit as the value, above 0."""


@attrs.frozen(kw_only=True)
class Start:
    """A part as it went in: new, or as the first reading of its life could only guess.

    `value` None: no as-new value exists; the fleet's own start values stand in, wide.
    """

    time: float
    value: float | None = 0.0
    uncertainty: float = 0.0


@attrs.frozen(kw_only=True)
class Series:
    """All readings of one feature on one hoist.

    `starts`: when the part was new, and each renewal since. A reading at the very time of a
    renewal is taken as found, on the old part; what was read on the new part goes into the
    renewal's own `value` and `uncertainty`.
    """

    hoist: str
    group: GroupPath = ()
    starts: tuple[Start, ...]
    readings: tuple[WearReading, ...] = ()

    @property
    def last_time(self) -> float:
        """Time of the latest reading or renewal."""
        return max([s.time for s in self.starts] + [r.time for r in self.readings])


def series_faults(series: Series) -> list[str]:
    """All that is wrong with a series, each as one sentence; empty where nothing is.

    >>> series_faults(Series(hoist="A 1", starts=()))
    ['A 1: no start is given; expected when the part was new or first seen.']
    """
    if not series.starts:
        return [f"{series.hoist}: no start is given; expected when the part was new or first seen."]
    return [*_start_faults(series), *_reading_faults(series)]


def _start_faults(series: Series) -> list[str]:
    found = []
    for number, start in enumerate(series.starts):
        if not math.isfinite(start.time):
            found.append(f"{series.hoist}: the start {number + 1} has time {start.time}.")
        if start.value is None and number:
            found.append(
                f"{series.hoist}: renewal {number} has no start value; expected the as-new value, "
                "with its uncertainty. Only the first start may be unknown."
            )
        if not start.uncertainty >= 0:
            found.append(
                f"{series.hoist}: start uncertainty {start.uncertainty}; expected 0 or more."
            )
    return found + _order_faults(series.hoist, "start", [s.time for s in series.starts])


def _reading_faults(series: Series) -> list[str]:
    found = _order_faults(series.hoist, "reading", [r.time for r in series.readings])
    for reading in series.readings:
        if not reading.time >= series.starts[0].time:
            found.append(
                f"{series.hoist}: a reading at {reading.time:g} is before the first start at "
                f"{series.starts[0].time:g}; expected the start first."
            )
        if not math.isnan(reading.value) and not (0 < reading.uncertainty < math.inf):
            found.append(
                f"{series.hoist}: the reading at {reading.time:g} has standard uncertainty "
                f"{reading.uncertainty}; expected a finite figure above 0."
            )
    return found


def _order_faults(hoist: str, what: str, times: Sequence[float]) -> list[str]:
    pairs = itertools.pairwise(times)
    strict = what == "start"
    return [
        f"{hoist}: the {what} times {a:g} and {b:g} are not in order; expected the earlier first."
        for a, b in pairs
        if b < a or (strict and b == a)
    ]


def check_series(many: Sequence[Series]) -> None:
    """Refuse what `series_faults` finds, all at once, and groups of different depth."""
    faults = [fault for series in many for fault in series_faults(series)]
    depths = {len(series.group) for series in many}
    if len(depths) > 1:
        faults.append(
            f"groups of depth {sorted(depths)} are mixed; expected one depth for all series."
        )
    if faults:
        raise ValueError("\n".join(faults))


def toward_limit(value: float, as_new: float, limit: float) -> float:
    """A reading as the share of the way from as new to the limit: 0 new, 1 at the limit.

    y = (x − x0) / (L − x0)

    Args:
        value: reading x, SI.
        as_new: x0, same unit.
        limit: L, same unit, other than x0; above or below it.

    Returns:
        Share, no unit. Uncertainties scale by 1 / |L − x0|.

    Raises:
        ValueError: limit and as-new value are equal.

    References:
        definition of the project: one model serves upper and lower limits.

    >>> toward_limit(0.0196, 0.020, 0.018)
    0.2
    """
    if limit == as_new:
        raise ValueError(f"limit and as-new value are both {limit:g}; expected two figures.")
    return round((value - as_new) / (limit - as_new), 15)
