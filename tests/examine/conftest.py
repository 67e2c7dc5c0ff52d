"""A sound hoist: every point measured as new and looked at in order, with gauges in date."""

from __future__ import annotations

import datetime
from collections.abc import Callable

import attrs
import pytest

from hoistwright.basis.loading import shipped_basis
from hoistwright.basis.model import Basis
from hoistwright.basis.rulings import rulings
from hoistwright.examine.entries import Circumstances, Entries, LookAnswer, Reading
from hoistwright.examine.points import Point, points
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped
from hoistwright.metrology import Gauge
from hoistwright.quantity import Dimension

DAY = datetime.date(2026, 11, 2)
FROM, DUE = datetime.date(2026, 1, 5), datetime.date(2027, 1, 4)


def gauge(key: str, dimension: Dimension, resolution: float, expanded: float) -> Gauge:
    return Gauge(
        key,
        f"gauge {key}",
        "of the test",
        dimension,
        resolution,
        expanded,
        calibrated_on=FROM,
        due_on=DUE,
    )


GAUGES = (
    gauge("length", Dimension.LENGTH, 1e-5, 2e-5),
    gauge("angle", Dimension.ANGLE, 0.0017, 0.0017),
    gauge("force", Dimension.FORCE, 0.1, 0.2),
)


def sound_value(point: Point) -> float:
    """As new where it is known; else well on the good side of the limit."""
    if point.baseline is not None:
        return point.baseline.value
    ruling = point.rulings[0]
    assert ruling.limit_si is not None
    return ruling.limit_si * (1.25 if ruling.side == "lower" else 0.5)


def sound_reading(point: Point) -> Reading:
    return Reading(
        part=point.part,
        feature=point.feature,
        place=point.place,
        values=(sound_value(point),),
        unit="mm",
        gauge=point.dimension.value,
        links=point.links,
    )


@attrs.frozen
class Case:
    design: Design
    bases: tuple[Basis, ...]
    points: tuple[Point, ...]
    entries: Entries

    def with_value(self, feature: str, place: str, value: float, part: str = "") -> Entries:
        """The sound entries with one reading changed."""
        hit = [
            r.feature == feature and r.place == place and part in ("", r.part)
            for r in self.entries.readings
        ]
        assert any(hit)
        readings = tuple(
            attrs.evolve(r, values=(value,)) if change else r
            for r, change in zip(self.entries.readings, hit, strict=True)
        )
        return attrs.evolve(self.entries, readings=readings)


@pytest.fixture(scope="session")
def sound() -> Callable[..., Case]:
    def build(key: str = "ardle-2000", *bases: str) -> Case:
        design = shipped(key)
        chosen = tuple(shipped_basis(name) for name in bases or ("b30-hand-hoists",))
        wanted = points(design, rulings(design, chosen, DAY))
        entries = Entries(
            readings=tuple(sound_reading(point) for point in wanted if point.measured),
            looks=tuple(
                LookAnswer(
                    part=point.part, feature=point.feature, place=point.place, answer="in order"
                )
                for point in wanted
                if not point.measured
            ),
            gauges=GAUGES,
            circumstances=Circumstances(day=DAY),
        )
        return Case(design, chosen, wanted, entries)

    return build
