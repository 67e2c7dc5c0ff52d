"""When the hoist was examined, by whom, and on which bases."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING

from hoistwright.basis.loading import find_basis, shipped_bases
from hoistwright.job.job_sheet import ServiceClass, Work
from hoistwright.sheet.header import Header
from hoistwright.sheet.people import person_key

if TYPE_CHECKING:
    from hoistwright.job.shop import Shop

EARLIEST = datetime.date(1950, 1, 1)  # nothing on a sheet that is filled today is older

_SERVICES: dict[str, ServiceClass] = {"normal": "normal", "heavy": "heavy", "severe": "severe"}


def check_work(header: Header, *, shop: Shop | None, today: datetime.date | None) -> Work | None:
    """The [work] part of a header; None where it cannot be established."""
    before = len(header.faults)
    examined_on = _examined_on(header, today)
    header.needed("work.examined_by")
    work = Work(
        examined_on=examined_on or datetime.date.max,
        examined_by=person_key(header.cell("work.examined_by"), shop, header.faults),
        bases=_bases(header),
        received_on=_earlier(header, "work.received_on", examined_on),
        last_examined_on=_earlier(header, "work.last_examined_on", examined_on),
        complaint=header.text("work.complaint"),
        service=header.word("work.service", _SERVICES, "normal, heavy or severe") or "normal",
        remark=header.text("work.remark"),
    )
    return work if len(header.faults) == before else None


def _examined_on(header: Header, today: datetime.date | None) -> datetime.date | None:
    key = "work.examined_on"
    header.needed(key)
    day = header.date(key)
    if day is None:
        return None
    if today is not None and day > today:
        header.wrong(key, f"a day not after today, {today}")
    return _not_ancient(header, key, day)


def _earlier(header: Header, key: str, examined_on: datetime.date | None) -> datetime.date | None:
    """A day that cannot lie after the examination."""
    day = header.date(key)
    if day is None:
        return None
    if examined_on is not None and day > examined_on:
        header.wrong(key, f"a day not after the examination on {examined_on}")
    return _not_ancient(header, key, day)


def _not_ancient(header: Header, key: str, day: datetime.date) -> datetime.date:
    if day < EARLIEST:
        header.wrong(key, f"a day from {EARLIEST} on")
    return day


def _bases(header: Header) -> tuple[str, ...]:
    """The bases as the sheet names them, each looked up."""
    text = header.needed("work.bases")
    names = [name.strip() for name in text.split(";") if name.strip()]
    if text and not names:
        header.wrong("work.bases", "at least one basis: " + ", ".join(shipped_bases()))
    known = {key.casefold(): key for key in shipped_bases()}
    names = [known.get(name.casefold(), name) for name in names]
    for name in names:
        if names.count(name) > 1:
            header.wrong("work.bases", f"each basis once, not {name!r} twice")
            break
    for name in dict.fromkeys(names):
        header.found(
            "work.bases",
            name,
            lambda wanted: find_basis(wanted, beside=header.folder),
            shipped_bases(),
            "the key of a shipped basis or the folder of one",
        )
    return tuple(names)
