"""Gauges: what they read, how well, and whether they may be used on a given day."""

from __future__ import annotations

import math
from datetime import date
from enum import Enum

import attrs

from hoistwright.quantity import Dimension, show, si_unit


@attrs.frozen
class Gauge:
    """A measuring instrument of the shop. All figures in SI units of what it measures.

    Args:
        key: short name used on job sheets.
        name: what people call it, with its shop number.
        kind: free text, such as "digital caliper", "chain gauge", "spring balance".
        measures: what it measures.
        resolution: one step of the display or scale.
        calibration_uncertainty: expanded uncertainty U of its last calibration.
        coverage_factor: k of that U.
        calibrated_on: day of the last calibration; None where it has none.
        due_on: last day on which the calibration still holds.
        range_min: least reading it can give.
        range_max: greatest reading it can give.
        certificate: number of the calibration certificate.
        repeatability: usual standard deviation of single readings with it in this shop.
        repeatability_dof: degrees of freedom of that figure.
        temperature_min: least working temperature in kelvins, where one is stated.
        temperature_max: greatest working temperature in kelvins, where one is stated.
    """

    key: str
    name: str
    kind: str
    measures: Dimension
    resolution: float
    calibration_uncertainty: float
    coverage_factor: float = 2.0
    calibrated_on: date | None = None
    due_on: date | None = None
    range_min: float = 0.0
    range_max: float = math.inf
    certificate: str = ""
    repeatability: float | None = None
    repeatability_dof: float = math.inf
    temperature_min: float | None = None
    temperature_max: float | None = None

    def __attrs_post_init__(self) -> None:
        for name in ("resolution", "coverage_factor", "repeatability_dof"):
            self._require(name, getattr(self, name) > 0, "above 0")
        self._require(
            "calibration_uncertainty",
            math.isfinite(self.calibration_uncertainty) and self.calibration_uncertainty >= 0,
            "0 or more",
        )
        self._require("resolution", math.isfinite(self.resolution), "a finite figure")
        self._require("range_max", self.range_max > self.range_min, "above range_min")
        if self.repeatability is not None:
            self._require("repeatability", self.repeatability >= 0, "0 or more")
        if self.calibrated_on and self.due_on:
            self._require("due_on", self.due_on >= self.calibrated_on, "not before calibrated_on")

    def _require(self, name: str, holds: bool, expected: str) -> None:
        if not holds:
            raise ValueError(
                f"gauge {self.key}: {name} is {getattr(self, name)}; expected {expected}"
            )


class GaugeStatus(Enum):
    """Whether a gauge may be used. Only IN_DATE lets a reading count."""

    IN_DATE = "in date"
    OUT_OF_DATE = "out of date"
    NOT_YET_CALIBRATED = "not yet calibrated"
    NO_CALIBRATION = "no calibration on record"
    OUT_OF_RANGE = "reading out of range"
    TOO_WARM_OR_COLD = "outside its working temperature"


@attrs.frozen
class GaugeState:
    """The status of a gauge for one reading, with the reason as a sentence."""

    status: GaugeStatus
    reason: str

    @property
    def usable(self) -> bool:
        return self.status is GaugeStatus.IN_DATE


def state_on(
    gauge: Gauge,
    day: date,
    *,
    reading: float | None = None,
    temperature: float | None = None,
) -> GaugeState:
    """Whether `gauge` may be used on `day`, for `reading` at `temperature`.

    The day of calibration and the due day both count as in date.

    Args:
        gauge: the gauge.
        day: the day of use.
        reading: the reading in SI, if its range is to be looked at.
        temperature: the temperature at the bench in kelvins, if it was noted.

    >>> g = Gauge("C1", "caliper 1", "digital caliper", Dimension.LENGTH, 1e-5, 3e-5,
    ...           calibrated_on=date(2026, 1, 10), due_on=date(2027, 1, 9), range_max=0.15)
    >>> state_on(g, date(2027, 1, 10)).reason
    'caliper 1 was due for calibration on 2027-01-09, before its use on 2027-01-10'
    """
    for found in (
        _calibration(gauge, day),
        _range(gauge, reading),
        _temperature(gauge, temperature),
    ):
        if found is not None:
            return found
    return GaugeState(
        GaugeStatus.IN_DATE, f"{gauge.name} is in date until {gauge.due_on} for use on {day}"
    )


def _calibration(gauge: Gauge, day: date) -> GaugeState | None:
    if gauge.calibrated_on is None or gauge.due_on is None:
        missing = "day of calibration" if gauge.calibrated_on is None else "due day"
        return GaugeState(GaugeStatus.NO_CALIBRATION, f"{gauge.name} has no {missing} on record")
    if day < gauge.calibrated_on:
        return GaugeState(
            GaugeStatus.NOT_YET_CALIBRATED,
            f"{gauge.name} was calibrated on {gauge.calibrated_on}, after its use on {day}",
        )
    if day > gauge.due_on:
        return GaugeState(
            GaugeStatus.OUT_OF_DATE,
            f"{gauge.name} was due for calibration on {gauge.due_on}, before its use on {day}",
        )
    return None


def _range(gauge: Gauge, reading: float | None) -> GaugeState | None:
    if reading is None or gauge.range_min <= reading <= gauge.range_max:
        return None
    if math.isnan(reading):
        return GaugeState(GaugeStatus.OUT_OF_RANGE, "the reading is not a figure")
    unit = "mm" if gauge.measures is Dimension.LENGTH else si_unit(gauge.measures).symbol
    below = reading < gauge.range_min
    bound = show(gauge.range_min if below else gauge.range_max, gauge.measures, unit)
    side = "below the least" if below else "above the greatest"
    return GaugeState(
        GaugeStatus.OUT_OF_RANGE,
        f"the reading {show(reading, gauge.measures, unit)} is {side} that {gauge.name} can give, "
        f"{bound}",
    )


def _temperature(gauge: Gauge, temperature: float | None) -> GaugeState | None:
    if temperature is None:
        return None
    least = -math.inf if gauge.temperature_min is None else gauge.temperature_min
    most = math.inf if gauge.temperature_max is None else gauge.temperature_max
    if least <= temperature <= most:
        return None
    shown = show(temperature, Dimension.TEMPERATURE, "°C")
    return GaugeState(
        GaugeStatus.TOO_WARM_OR_COLD, f"{shown} is outside the working range of {gauge.name}"
    )
