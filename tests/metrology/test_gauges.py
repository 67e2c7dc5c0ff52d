"""A gauge counts from the day of its calibration to its due day, inside its range."""

from __future__ import annotations

import math
from datetime import date
from typing import Any

import attrs
import pytest

from hoistwright.metrology import Gauge, GaugeStatus, state_on
from hoistwright.quantity import Dimension

CALIPER = Gauge(
    key="C1",
    name="caliper 1",
    kind="digital caliper",
    measures=Dimension.LENGTH,
    resolution=1e-5,
    calibration_uncertainty=3e-5,
    calibrated_on=date(2026, 1, 10),
    due_on=date(2027, 1, 9),
    range_max=0.15,
    temperature_min=278.15,
    temperature_max=313.15,
)


@pytest.mark.parametrize(
    ("day", "status"),
    [
        (date(2026, 1, 9), GaugeStatus.NOT_YET_CALIBRATED),
        (date(2026, 1, 10), GaugeStatus.IN_DATE),
        (date(2027, 1, 9), GaugeStatus.IN_DATE),
        (date(2027, 1, 10), GaugeStatus.OUT_OF_DATE),
    ],
)
def test_both_end_days_count(day: date, status: GaugeStatus) -> None:
    state = state_on(CALIPER, day)
    assert state.status is status
    assert state.usable is (status is GaugeStatus.IN_DATE)
    assert "caliper 1" in state.reason


@pytest.mark.parametrize("missing", ["calibrated_on", "due_on"])
def test_without_a_record_it_does_not_count(missing: str) -> None:
    nothing: dict[str, Any] = {missing: None}
    state = state_on(attrs.evolve(CALIPER, **nothing), date(2026, 6, 1))
    assert state.status is GaugeStatus.NO_CALIBRATION
    assert not state.usable


@pytest.mark.parametrize(
    ("reading", "words"),
    [(0.2, "greatest"), (-0.001, "least"), (math.nan, "not a figure"), (math.inf, "greatest")],
)
def test_a_reading_outside_its_range(reading: float, words: str) -> None:
    state = state_on(CALIPER, date(2026, 6, 1), reading=reading)
    assert state.status is GaugeStatus.OUT_OF_RANGE
    assert words in state.reason
    assert not state.usable


def test_the_ends_of_the_range_and_of_the_temperature_count() -> None:
    for reading in (0.0, 0.15):
        assert state_on(CALIPER, date(2026, 6, 1), reading=reading, temperature=313.15).usable
    state = state_on(CALIPER, date(2026, 6, 1), temperature=263.15)
    assert state.status is GaugeStatus.TOO_WARM_OR_COLD
    assert "-10 °C" in state.reason


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("resolution", 0.0),
        ("resolution", math.nan),
        ("resolution", math.inf),
        ("calibration_uncertainty", -1e-5),
        ("calibration_uncertainty", math.nan),
        ("coverage_factor", 0.0),
        ("range_max", -1.0),
        ("repeatability", -1e-5),
        ("due_on", date(2025, 1, 1)),
    ],
)
def test_refuses(field: str, value: Any) -> None:
    with pytest.raises(ValueError, match=f"gauge C1: {field} is"):
        attrs.evolve(CALIPER, **{field: value})
