"""From a technician's readings to one figure with its budget, or the reason there is none."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from hoistwright.examine.entries import Entries, Reading
from hoistwright.hoist.feature import Measure
from hoistwright.metrology import (
    Budget,
    Component,
    Gauge,
    Scatter,
    budget,
    length_budget,
    reading_budget,
    state_on,
)


@attrs.frozen(kw_only=True)
class Taken:
    """A measured figure (SI) with its budget. `missing` says why there is none."""

    value: float = float("nan")
    budget: Budget | None = None
    repeats: int = 0
    unit: str = ""
    gauge: str = ""
    links: int | None = None
    remark: str = ""
    by: str = ""
    missing: str = ""


def take(reading: Reading | None, feature: Measure, entries: Entries) -> Taken:
    """The mean of a reading's repeats with its budget; `missing` says what stands against it."""
    if reading is None:
        return Taken(missing="no reading")
    gauge = entries.gauge(reading.gauge)
    reason = _objection(reading, gauge, feature, entries)
    known = Taken(
        repeats=len(reading.values),
        unit=reading.unit,
        gauge=gauge.name if gauge else reading.gauge,
        links=reading.links,
        remark=reading.remark,
        by=reading.by,
        missing=reason,
        value=sum(reading.values) / len(reading.values) if reading.values else float("nan"),
    )
    if reason or gauge is None:
        return known
    return attrs.evolve(known, budget=_budget(reading, known.value, gauge, feature, entries))


def _objection(reading: Reading, gauge: Gauge | None, feature: Measure, entries: Entries) -> str:
    if not reading.values:
        return "no reading"
    if not reading.gauge:
        return "no gauge is named for this reading"
    if gauge is None:
        return f"the gauge {reading.gauge!r} is not in the shop file"
    if gauge.measures.value != feature.dimension:
        return f"{gauge.name} does not measure a {feature.dimension}"
    for value in reading.values:
        state = state_on(gauge, entries.circumstances.day, reading=value)
        if not state.usable:
            return state.reason
    return ""


def _budget(
    reading: Reading, value: float, gauge: Gauge, feature: Measure, entries: Entries
) -> Budget:
    usual = feature.repeatability if feature.dimension == "length" else feature.repeatability_angle
    if feature.dimension != "length":
        scatter = None if usual is None else Scatter(float(usual), float("inf"))
        return reading_budget(gauge, repeats=reading.values, usual=scatter)
    return length_budget(
        value,
        gauge=gauge,
        repeats=reading.values,
        pooled_repeatability=None if usual is None else float(usual),
        expansion=entries.circumstances.expansion,
        temperature_half_width=entries.circumstances.temperature_half_width,
    )


def mean_of(parts: Sequence[Taken]) -> Taken:
    """The mean of readings of the same thing in several directions.

    An error of calibration is common to readings with one gauge and does not average out;
    everything else counts as independent.
    """
    missing = next((part.missing for part in parts if part.missing), "")
    first = parts[0]
    value = sum(part.value for part in parts) / len(parts)
    mean = attrs.evolve(first, value=value, budget=None, missing=missing)
    if missing:
        return mean
    return attrs.evolve(
        mean,
        budget=budget(list(_averaged(parts))),
        repeats=sum(part.repeats for part in parts),
        remark="; ".join(part.remark for part in parts if part.remark),
    )


def smallest_of(parts: Sequence[Taken]) -> Taken:
    """The smallest of several readings; missing where any of them is missing."""
    missing = next((part for part in parts if part.missing), None)
    return missing or min(parts, key=lambda part: part.value)


def _averaged(parts: Sequence[Taken]) -> list[Component]:
    share = 1.0 / len(parts)
    common: dict[str, Component] = {}
    own: list[Component] = []
    for part in parts:
        for item in part.budget.components if part.budget else ():
            if item.name != "calibration":
                own.append(item.scaled(share))
                continue
            held = common.get(part.gauge)
            factor = share + (float(held.sensitivity) if held else 0.0)
            common[part.gauge] = attrs.evolve(item, sensitivity=factor)
    return [*common.values(), *own]
