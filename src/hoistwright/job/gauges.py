"""From a gauge as the shop file writes it to a gauge that can be calculated with."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from hoistwright.metrology import Gauge
from hoistwright.quantity import Dimension

if TYPE_CHECKING:
    from hoistwright.job.shop import GaugeEntry

_SUFFIX = {Dimension.LENGTH: "", Dimension.ANGLE: "_angle", Dimension.FORCE: "_force"}


class GaugeError(ValueError):
    """A gauge entry that cannot be used: at which key, what was read, what was expected."""

    def __init__(self, key: str, read: str, expected: str) -> None:
        self.key, self.read, self.expected = key, read, expected
        super().__init__(f"{key}: read {read}; expected {expected}")


def gauge_of(entry: GaugeEntry) -> Gauge:
    """The gauge of an entry. What it measures follows from the figures that are given.

    Errors:
        GaugeError: figures of no dimension or of several, half of a pair, a range on a gauge
            that measures no length, or dates and figures that cannot be.
    """
    dimension = _dimension(entry)
    resolution = _figure(entry, "resolution", dimension)
    uncertainty = _figure(entry, "uncertainty", dimension)
    ranged = entry.reads_from is not None or entry.reads_to is not None
    if ranged and dimension is not Dimension.LENGTH:
        raise GaugeError("reads_to", "a range", "none: ranges are kept for gauges of length only")
    _check(entry, resolution, uncertainty)
    return Gauge(
        key=entry.key,
        name=entry.name,
        kind=entry.kind,
        measures=dimension,
        resolution=resolution,
        calibration_uncertainty=uncertainty,
        coverage_factor=entry.coverage_factor,
        calibrated_on=entry.calibrated_on,
        due_on=entry.due_on,
        range_min=0.0 if entry.reads_from is None else float(entry.reads_from),
        range_max=math.inf if entry.reads_to is None else float(entry.reads_to),
        certificate=entry.certificate,
    )


def _dimension(entry: GaugeEntry) -> Dimension:
    given = [
        dimension
        for dimension, suffix in _SUFFIX.items()
        for name in ("resolution", "uncertainty")
        if getattr(entry, name + suffix) is not None
    ]
    found = list(dict.fromkeys(given))
    expected = "resolution and uncertainty of what it measures: a length, an angle or a force"
    if not found:
        raise GaugeError("resolution", "no figure", expected)
    if len(found) > 1:
        read = "figures of " + " and of ".join(dimension.value for dimension in found)
        raise GaugeError("resolution", read, "one entry for each thing that a gauge measures")
    return found[0]


def _figure(entry: GaugeEntry, name: str, dimension: Dimension) -> float:
    key = name + _SUFFIX[dimension]
    value = getattr(entry, key)
    if value is None:
        raise GaugeError(key, "nothing", f"its {name} as well")
    return float(value)


def _check(entry: GaugeEntry, resolution: float, uncertainty: float) -> None:
    if resolution <= 0:
        raise GaugeError("resolution", "zero or less", "a resolution above zero")
    if uncertainty < 0:
        raise GaugeError("uncertainty", "a figure below zero", "zero or more")
    if not entry.coverage_factor > 0:
        raise GaugeError("coverage_factor", f"{entry.coverage_factor:g}", "above zero, usually 2")
    low, high = entry.reads_from, entry.reads_to
    if (low is not None and low < 0) or (high is not None and high <= (low or 0.0)):
        raise GaugeError(
            "reads_to", "a range without room", "reads_from of 0 or more, below reads_to"
        )
    since, due = entry.calibrated_on, entry.due_on
    if since is not None and due is not None and due < since:
        raise GaugeError("due_on", str(due), f"a day not before the calibration on {since}")
