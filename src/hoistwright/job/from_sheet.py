"""A whole job sheet as events. The same sheet gives the same ids: it enters once."""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.job.codec import canonical, plain
from hoistwright.job.entry import Draft, hash_of
from hoistwright.job.events import (
    Body,
    BookedIn,
    ExaminedOn,
    LookAnswered,
    ReadingEntered,
    Remarked,
)
from hoistwright.job.job_sheet import JobSheet


def drafts_of(sheet: JobSheet) -> tuple[Draft, ...]:
    """The events that a job sheet tells, in its order."""
    drafts: list[Draft] = []
    for place, (by, body) in enumerate(_told(sheet)):
        told = canonical([sheet.job, place, by, body.kind, plain(body)])
        drafts.append(Draft(id="sheet-" + hash_of(told)[:40], by=by, body=body))
    return tuple(drafts)


def _told(sheet: JobSheet) -> Iterator[tuple[str, Body]]:
    work = sheet.work
    clerk = work.examined_by
    yield (
        clerk,
        BookedIn(
            hoist=sheet.hoist,
            customer=sheet.customer,
            design=sheet.design,
            bases=work.bases,
            complaint=work.complaint,
            received_on=work.received_on,
            last_examined_on=work.last_examined_on,
            service=work.service,
            units=sheet.units,
        ),
    )
    yield clerk, ExaminedOn(day=work.examined_on)
    for reading in sheet.readings:
        if not reading.values:
            continue
        yield (
            reading.by or clerk,
            ReadingEntered(
                part=reading.part,
                feature=reading.feature,
                place=reading.place,
                values=reading.values,
                unit=reading.unit,
                gauge=reading.gauge,
                links=reading.links,
                remark=reading.remark,
            ),
        )
    for look in sheet.looks:
        yield (
            look.by or clerk,
            LookAnswered(
                part=look.part,
                feature=look.feature,
                place=look.place,
                answer=look.answer,
                remark=look.remark,
                photo=look.photo,
            ),
        )
    if work.remark:
        yield clerk, Remarked(text=work.remark)
