"""Which gauges can take a measure, and which one is offered first."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from hoistwright.examine.points import Point
from hoistwright.job.events import ReadingEntered
from hoistwright.metrology import Gauge, state_on
from hoistwright.web.pages.job.case import Case


@attrs.frozen(kw_only=True)
class Offer:
    """A gauge in the list. `trouble` says why it must not be used."""

    key: str
    name: str
    trouble: str = ""


@attrs.frozen(kw_only=True)
class Choice:
    """The gauges for one kind of instrument. `kind` is what the tablet remembers it by."""

    kind: str
    offers: tuple[Offer, ...]
    chosen: str


def gauge_choice(case: Case, point: Point) -> Choice:
    """Gauges that measure this at all; those named for it and in date come first."""
    fitting = [g for g in case.shop.all_gauges() if _reaches(g, point)]
    ranked = sorted(fitting, key=lambda gauge: _rank(case, gauge, point))
    offers = tuple(
        Offer(key=gauge.key, name=gauge.name, trouble=_trouble(case, gauge, point))
        for gauge in ranked
    )
    usable = [offer.key for offer in offers if not offer.trouble]
    last = _last_used(case, point, usable)
    return Choice(
        kind=" ".join((point.dimension.value, *point.instruments)),
        offers=offers,
        chosen=last or (usable[0] if usable else ""),
    )


def _reaches(gauge: Gauge, point: Point) -> bool:
    """Whether it measures this at all, and a part of this size fits it."""
    if gauge.measures is not point.dimension:
        return False
    size = point.baseline.value if point.baseline else 0.0
    return size <= gauge.range_max


def _trouble(case: Case, gauge: Gauge, point: Point) -> str:
    """Why it must not be used, in the words of the list of gauges where its day is past."""
    day = max(case.day, case.visit.bench.today)
    reading = point.baseline.value if point.baseline and point.baseline.value > 0 else None
    found = state_on(gauge, day, reading=reading)
    if found.usable:
        return ""
    say, due = case.visit.say, gauge.due_on
    if due is not None and due < day:
        return say("out of date since %(day)s", day=case.visit.language.date(due))
    return say(found.reason)


def _rank(case: Case, gauge: Gauge, point: Point) -> tuple[bool, int, str]:
    """Usable ones first; then in the order in which the measure names its instruments.

    A "digital caliper" is a caliper; a "micrometer" is something like a gear-tooth micrometer.
    """
    words = set(f"{gauge.kind} {gauge.name}".casefold().split())
    places = [99]
    for at, instrument in enumerate(point.instruments):
        named = set(instrument.casefold().split())
        if named & words:
            places.append(at if named <= words else at + len(point.instruments))
    return bool(_trouble(case, gauge, point)), min(places), gauge.key


def out_of_range(case: Case, key: str, values: Sequence[float]) -> str:
    """Why a gauge cannot have given these readings; empty where it can, or is not known."""
    gauge = next((each for each in case.shop.all_gauges() if each.key == key), None)
    day = case.visit.bench.today
    if gauge is None or not state_on(gauge, day).usable:
        return ""
    found = (state_on(gauge, day, reading=value) for value in values)
    reason = next((state.reason for state in found if not state.usable), "")
    return case.visit.say(reason)


def _last_used(case: Case, point: Point, usable: list[str]) -> str:
    """What this person, or else anybody, used last in this job for the same instruments."""
    alike = {
        (other.part, other.feature)
        for other in case.points
        if other.measured and other.instruments == point.instruments
    }
    best = ""
    for entry in case.state.readings.values():
        body = entry.body
        if not isinstance(body, ReadingEntered) or (body.part, body.feature) not in alike:
            continue
        if body.gauge in usable and (not best or entry.last.by == case.visit.person.key):
            best = body.gauge
    return best
