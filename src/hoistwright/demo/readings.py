"""What the demo shop's technicians read: the true state, a gauge's error, a gauge's steps."""

from __future__ import annotations

import datetime
import math

import attrs
import numpy as np

from hoistwright.demo.points import CHAIN
from hoistwright.demo.worn import Worn
from hoistwright.examine.points import Point
from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import measure
from hoistwright.job.events import ReadingEntered
from hoistwright.job.shop import Shop
from hoistwright.metrology import Gauge, state_on
from hoistwright.quantity import Dimension

KINDS = {
    "long caliper": "vernier caliper",
    "caliper": "digital caliper",
    "micrometer": "micrometer",
    "depth gauge": "depth gauge",
    "feeler gauge": "feeler gauge",
    "gear-tooth micrometer": "digital caliper",
    "protractor": "protractor",
}
"""The kind of gauge that the demo shop takes for an instrument of the feature catalogue."""

BY_HAND = {Dimension.LENGTH: 1.5e-5, Dimension.ANGLE: math.radians(0.2)}
"""Standard deviation that the hand adds to a reading where the feature states none."""

SECTIONS = {"section 1": 1.0, "section 2": 0.86, "section 3": 0.6}
"""How worn the sections of a load chain are, beside the most worn one."""

SPRING = 0.6
"""How far a spring tires while another part goes the whole way to where it is renewed."""

CLEARANCE = 0.35
"""Of the greatest clearance: what a new part has, which no design states."""


@attrs.frozen
class Rack:
    """The gauges of the shop: the one in date for a kind, else the oldest of it."""

    gauges: tuple[Gauge, ...]

    def take(self, kind: str, day: datetime.date, size: float) -> Gauge:
        """The gauge that a technician takes on a day for something of this size, SI."""
        fit = [g for g in self.gauges if g.kind == kind and g.range_max >= size]
        good = [g for g in fit if state_on(g, day).usable]
        if good:
            return max(good, key=lambda gauge: gauge.key)
        return min(fit, key=lambda gauge: gauge.calibrated_on or datetime.date.min)


def rack_of(shop: Shop) -> Rack:
    """The shop's gauges, ready to be taken."""
    return Rack(shop.all_gauges())


def reading(
    point: Point,
    worn: Worn,
    design: Design,
    rack: Rack,
    rng: np.random.Generator,
    *,
    repeats: int = 1,
) -> ReadingEntered:
    """A point read on the day of the visit."""
    truth = true_value(point, worn, design)
    gauge = _gauge(point, truth, worn.day, rack)
    error = gauge.calibration_uncertainty / gauge.coverage_factor * rng.normal()
    hand = _by_hand(point) * rng.normal(size=repeats)
    step = gauge.resolution
    return ReadingEntered(
        part=point.part,
        feature=point.feature,
        place=point.place,
        values=tuple(_stepped(truth + error + float(h), step) for h in hand),
        unit="°" if point.dimension is Dimension.ANGLE else "mm",
        gauge=gauge.key,
        links=point.links,
    )


def _by_hand(point: Point) -> float:
    known = measure(point.feature)
    angle = point.dimension is Dimension.ANGLE
    stated = known.repeatability_angle if angle else known.repeatability
    return BY_HAND[point.dimension] if stated is None else float(stated)


def _stepped(value: float, step: float) -> float:
    """In steps of the gauge, without binary dust; nothing reads below zero."""
    return max(0.0, round(round(value / step) * step, 12))


def _gauge(point: Point, size: float, day: datetime.date, rack: Rack) -> Gauge:
    kind = next(KINDS[name] for name in point.instruments if name in KINDS)
    if point.feature == CHAIN:
        kind = "vernier caliper"
    elif kind == "micrometer" and size > 0.024:
        kind = "digital caliper"
    return rack.take(kind, day, size)


def true_value(point: Point, worn: Worn, design: Design) -> float:
    """What a perfect gauge would show at a point of a hoist in this state, SI."""
    new = point.baseline.value if point.baseline else None
    if point.reference:
        return new or 0.0
    if point.feature.startswith("load_chain."):
        return _chain(point, worn, design, new or 0.0)
    if point.feature == "hook.throat":
        return (new or 0.0) + worn.throat * (1.0 if point.part == "bottom_hook" else 0.7)
    if point.feature == "hook.twist":
        return min(worn.throat * 8.0, 0.03)
    if point.feature == "friction_disc.thickness":
        return (new or 0.0) - worn.lining * (1.0 if point.part.endswith("outer") else 0.9)
    return _ordinary(point, worn.shares.get(point.part, 0.0), new)


def _ordinary(point: Point, share: float, new: float | None) -> float:
    """So far on the way from as new to the first limit; further places wear a little less."""
    ruling = next(r for r in point.rulings if r.limit_si is not None)
    limit = ruling.limit_si
    assert limit is not None
    share *= 1.0 if point.place in ("", "1") else 0.93
    share *= SPRING if "free_length" in point.feature else 1.0
    if ruling.comparison in ("at least", "at most"):
        assert new is not None or ruling.side == "upper", f"{point.feature}: no as-new value"
        fresh = CLEARANCE * limit if new is None else new
        return fresh + share * (limit - fresh)
    fresh = new or 0.0
    sign = -1.0 if ruling.comparison.startswith("loss") else 1.0
    return fresh + sign * share * (limit if ruling.comparison.endswith("by") else limit * fresh)


def _chain(point: Point, worn: Worn, design: Design, new: float) -> float:
    """Gauge lengths, pitch and diameters of a chain that wears at its crowns and stretches.

    A joint whose two crowns have lost w each is longer by 2w, so elongation = 2w(n−1)/(n·p).
    """
    chain = design.load_chain
    assert chain.pitch is not None
    links = chain.gauge_links or 11
    place = point.place.split(" along")[0].split(" across")[0]
    joints = 2.0 * (links - 1) / (links * chain.pitch)
    crown = (worn.elongation - worn.stretch) * SECTIONS.get(place, 1.0) / joints
    if point.feature == CHAIN:
        return new + 2.0 * (links - 1) * crown + worn.stretch * links * chain.pitch
    if point.feature.endswith("link_pitch"):
        return new * (1.0 + worn.stretch) + 2.0 * crown
    if point.feature.endswith("crown_diameter"):
        return new - crown * (0.05 if point.place.endswith("across") else 1.0)
    return new * (1.0 - 0.5 * worn.stretch)
