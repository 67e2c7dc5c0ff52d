"""When a released hoist must be examined again: the bases' intervals, wear, and who signs."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

import attrs

from hoistwright.basis.model import Basis, Interval
from hoistwright.job.events_release import ExitChosen
from hoistwright.wear.next_visit import interval_day

SERVICE = " service"
"""How the names of intervals end that go by the service class."""
USUAL = "other lifting equipment"
"""The use that a hoist has where nobody says another."""
KINDS = ("periodic", "thorough")


@attrs.frozen(kw_only=True)
class Due:
    """The latest day of the next thorough examination, and what it follows from."""

    day: datetime.date
    why: str


@attrs.frozen(kw_only=True)
class WearDate:
    """The day from which a part may be beyond its limit, from the prognosis of wear."""

    day: datetime.date
    what: str


def latest_due(
    examined_on: datetime.date,
    bases: Sequence[Basis],
    service: str,
    chosen: ExitChosen,
    wear: WearDate | None = None,
) -> Due | None:
    """The soonest of what the bases, the prognosis of wear and the person who signs ask for.

    day = min(examined + interval, wear date, stated day)

    Args:
        examined_on: the day of the examination, from which the time runs.
        bases: those of the job.
        service: its service class: normal, heavy or severe.
        chosen: how it leaves, with the kind of examination and a day where one is stated.
        wear: from the prognosis, where there is one.

    Returns:
        The day and why; None where no basis states an interval and nobody a day. A stated day
        may be later than an interval only by an examination scheme.

    References:
        the interval's own source and clause; LOLER 1998 reg. 9(3)(a)(iii) for the scheme.
    """
    names = source_names(bases)
    found = [
        Due(
            day=interval_day(examined_on, item),
            why=f"interval for {item.name} ({names.get(item.source, item.source)}, {item.clause})",
        )
        for item in intervals_of(bases, service, chosen)
    ]
    if chosen.next_due is not None:
        why = chosen.why_due or "as stated by who signs"
        stated = Due(day=chosen.next_due, why=why)
        if chosen.occasion == "examination scheme":
            found = [stated]
        else:
            found.append(stated)
    if wear is not None:
        found.append(Due(day=wear.day, why=f"wear: {wear.what}"))
    return min(found, key=lambda due: due.day, default=None)


def intervals_of(bases: Sequence[Basis], service: str, chosen: ExitChosen) -> tuple[Interval, ...]:
    """The intervals of the bases that count for this hoist."""
    persons = chosen.occasion == "within 6 months"
    return tuple(
        item
        for basis in bases
        for item in basis.head.interval
        if item.kind in KINDS and _counts(item, service, six_months=persons)
    )


def source_names(bases: Sequence[Basis]) -> dict[str, str]:
    """The short names of sources by their keys: "ASME B30.16", "LOLER 1998"."""
    return {
        source.key: source.title.partition(", ")[0].partition(": ")[0]
        for basis in bases
        for source in basis.sources
    }


def _counts(item: Interval, service: str, *, six_months: bool) -> bool:
    """By service class; else by use: who was examined within 6 months is due so again."""
    if item.name.endswith(SERVICE):
        return item.name == f"{service}{SERVICE}"
    return item.months == 6 if six_months else item.name == USUAL
