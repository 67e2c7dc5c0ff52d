"""From a job's state to what the examination takes, and to a job sheet."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Sequence

from hoistwright.basis.adoption import adoption_state
from hoistwright.basis.model import Basis
from hoistwright.examine.entries import Circumstances, Entries, LookAnswer, Reading
from hoistwright.examine.findings import Plate
from hoistwright.examine.points import Point, points, same_pattern
from hoistwright.examine.result import Examination, examine
from hoistwright.hoist.design import Design
from hoistwright.job.events import LookAnswered, ReadingEntered
from hoistwright.job.job_sheet import Customer, HoistIdentity, JobSheet, Work
from hoistwright.job.remembered import remembered
from hoistwright.job.shop import Shop
from hoistwright.job.state import JobState, Standing


def readings_of(state: JobState) -> tuple[Reading, ...]:
    """The readings that stand, each by the person who spoke last."""
    return tuple(
        reading_of(body, entry.last.by)
        for entry in state.readings.values()
        if isinstance(body := entry.body, ReadingEntered)
    )


def reading_of(body: ReadingEntered, by: str) -> Reading:
    """What was entered, as the examination takes it."""
    return Reading(
        part=body.part,
        feature=body.feature,
        place=body.place,
        values=body.values,
        unit=body.unit,
        gauge=body.gauge,
        links=body.links,
        remark=body.remark,
        by=by,
    )


def looks_of(state: JobState) -> tuple[LookAnswer, ...]:
    """The answers that stand."""
    return tuple(
        LookAnswer(
            part=body.part,
            feature=body.feature,
            place=body.place,
            answer=body.answer,
            remark=body.remark,
            photo=body.photo,
            by=entry.last.by,
        )
        for entry in state.looks.values()
        if isinstance(body := entry.body, LookAnswered)
    )


def day_of(state: JobState) -> datetime.date | None:
    """The day of the examination: as stated, else that of the last reading or look."""
    if state.examined_on is not None:
        return state.examined_on.day
    days = [entered_on(entry) for entry in (*state.readings.values(), *state.looks.values())]
    return max(days, default=state.opened_at.date() if state.opened_at else None)


def entered_on(entry: Standing) -> datetime.date:
    """The day at the bench when the word that stands was entered."""
    event = entry.last
    return (event.told_at or event.at).date()


@remembered
def _all_points(design: Design) -> tuple[Point, ...]:
    return tuple(points(design, ()))


def strays(state: JobState, design: Design) -> tuple[Standing, ...]:
    """Readings and looks for which the design has no point, as after a change of design."""
    places: dict[tuple[str, str], list[str]] = {}
    for point in _all_points(design):
        places.setdefault((point.part, point.feature), []).append(point.place)
    entries = [*state.readings.items(), *state.looks.items()]
    return tuple(
        entry
        for (part, feature, place), entry in entries
        if not any(same_pattern(place, known) for known in places.get((part, feature), ()))
    )


def entries_of(state: JobState, design: Design, shop: Shop) -> Entries:
    """What stands on the design's points, with the shop's gauges. Strays are left out."""
    out = {id(entry) for entry in strays(state, design)}
    kept = _addresses(e for e in state.readings.items() if id(e[1]) not in out)
    looked = _addresses(e for e in state.looks.items() if id(e[1]) not in out)
    day = day_of(state) or datetime.date.min
    return Entries(
        readings=tuple(r for r in readings_of(state) if (r.part, r.feature, r.place) in kept),
        looks=tuple(a for a in looks_of(state) if (a.part, a.feature, a.place) in looked),
        gauges=shop.all_gauges(),
        circumstances=circumstances_of(state, day),
    )


def circumstances_of(state: JobState, day: datetime.date) -> Circumstances:
    """The day, and how far the shop's temperature was known to be off where it was stated."""
    stated = state.examined_on
    if stated is None:
        return Circumstances(day=day)
    return Circumstances(day=day, temperature_half_width=stated.temperature_half_width)


def examine_job(state: JobState, design: Design, bases: Sequence[Basis], shop: Shop) -> Examination:
    """Examine the hoist of a job as it now stands. As `examine`; strays are left out."""
    booked = state.booked
    return examine(
        design,
        bases,
        entries_of(state, design, shop),
        adoptions=[adoption_state(basis, shop.adoptions, shop.adopters()) for basis in bases],
        plate=_plate(booked.hoist) if booked else None,
    )


def job_sheet_of(state: JobState) -> JobSheet:
    """The job as a job sheet, for reports and for export to a file."""
    booked = state.booked
    return JobSheet(
        job=state.job,
        design=state.design,
        hoist=booked.hoist if booked else HoistIdentity(),
        customer=booked.customer if booked else Customer(),
        units=booked.units if booked else "mm",
        work=Work(
            examined_on=day_of(state) or datetime.date.min,
            examined_by=_examiner(state),
            bases=state.bases,
            received_on=booked.received_on if booked else None,
            last_examined_on=booked.last_examined_on if booked else None,
            complaint=booked.complaint if booked else "",
            service=booked.service if booked else "normal",
            remark="; ".join(_remark_texts(state)),
        ),
        readings=readings_of(state),
        looks=looks_of(state),
    )


def point_of(wanted: Sequence[Point], part: str, feature: str, place: str) -> Point | None:
    """The point an address belongs to, further places of the same pattern included."""
    here = [p for p in wanted if (p.part, p.feature) == (part, feature)]
    exact = next((p for p in here if p.place == place), None)
    return exact or next((p for p in here if same_pattern(place, p.place)), None)


def _addresses(
    items: Iterable[tuple[tuple[str, str, str], Standing]],
) -> set[tuple[str, str, str]]:
    return {address for address, _ in items}


def _examiner(state: JobState) -> str:
    """Who entered the latest reading or look that stands."""
    entries = [*state.readings.values(), *state.looks.values()]
    last = max(entries, key=lambda entry: entry.last.seq, default=None)
    return last.last.by if last else state.holder


def _remark_texts(state: JobState) -> Iterator[str]:
    for entry in state.remarks:
        text = getattr(entry.body, "text", "")
        if text:
            yield text


def _plate(hoist: HoistIdentity) -> Plate:
    return Plate(maker=hoist.maker, model=hoist.model, rated_load=hoist.rated_load)
