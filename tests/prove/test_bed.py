"""Loads on a test bed: gauge in date, force into mass, guard band on both ends."""

from __future__ import annotations

import datetime

import attrs
import pytest

from hoistwright.metrology import Gauge, Outcome
from hoistwright.prove.bed import applied, bed_load
from hoistwright.quantity import Dimension

DAY = datetime.date(2026, 11, 25)
CELL = Gauge(
    "LC1", "load cell 1", "load cell", Dimension.MASS, 1.0, 4.0,
    calibrated_on=datetime.date(2026, 3, 1), due_on=datetime.date(2027, 2, 28),
)  # fmt: skip


def test_a_reading_clear_of_both_ends_is_fit() -> None:
    found = bed_load([2200, 2201, 2199], CELL, DAY, 2000, 2500)
    assert found.outcome is Outcome.FIT
    assert found.load == 2200
    assert found.budget is not None


def test_a_force_is_a_mass_by_standard_gravity() -> None:
    cell = attrs.evolve(CELL, measures=Dimension.FORCE)
    assert bed_load([9806.65], cell, DAY, 900, 1100).load == pytest.approx(1000)


@pytest.mark.parametrize(
    ("load", "outcome"),
    [
        (2003.9, Outcome.BORDERLINE),
        (2004.1, Outcome.FIT),
        (2495.9, Outcome.FIT),
        (2496.1, Outcome.BORDERLINE),
        (1999.0, Outcome.RENEW),
        (2501.0, Outcome.RENEW),
        (float("nan"), Outcome.NOT_ESTABLISHED),
    ],
)
def test_guard_band_at_both_ends(load: float, outcome: Outcome) -> None:
    """u = 2 kg, r = 2: 4 kg must be kept from 2000 and 2500 kg."""
    assert applied(load, 2.0, 2000, 2500).outcome is outcome


def test_a_gauge_out_of_date_or_no_reading_establishes_nothing() -> None:
    old = attrs.evolve(CELL, due_on=datetime.date(2026, 11, 24))
    found = bed_load([2200], old, DAY, 2000, 2500)
    assert found.outcome is Outcome.NOT_ESTABLISHED
    assert "due for calibration" in found.why
    assert bed_load([], CELL, DAY, 2000, 2500).outcome is Outcome.NOT_ESTABLISHED


def test_a_gauge_of_length_is_refused() -> None:
    with pytest.raises(ValueError, match="expected mass or force"):
        bed_load([1], attrs.evolve(CELL, measures=Dimension.LENGTH), DAY, 1, 2)
