"""From all visits of all hoists to wear series, one for each feature of each part."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

import attrs

from hoistwright.basis.model import Basis
from hoistwright.faults import FaultsError
from hoistwright.fleet.scales import Scale, Worn, by_feature, scales, worn
from hoistwright.fleet.visit_facts import VisitFacts
from hoistwright.hoist.design import Design
from hoistwright.strip.plan import with_companions
from hoistwright.wear.next_visit import DAYS_A_YEAR
from hoistwright.wear.series import Series, Start, WearReading

EPOCH = datetime.date(2000, 1, 1)
"""From which the years of all series count."""
A_DAY = 1 / DAYS_A_YEAR
AS_OLD_AS_THE_HOIST = 3.0
"""Years. In a younger hoist a part that was never renewed here is taken as the first one
(assumed); an older one may have been renewed elsewhere, so its start is unknown."""


Scales = dict[tuple[str, str], Scale]
"""By part and feature."""


@attrs.frozen(kw_only=True)
class Mark:
    """One reading of a history: when, in which job, how far, with its standard uncertainty."""

    day: datetime.date
    job: str
    share: float
    u: float
    place: str = ""


@attrs.frozen(kw_only=True)
class History:
    """A feature of a part of one hoist over the visits, as shares of the way to its limit."""

    hoist: str
    scale: Scale
    readings: tuple[Mark, ...]
    renewals: tuple[tuple[datetime.date, str], ...]
    """Day and job."""
    series: Series

    @property
    def key(self) -> tuple[str, bool]:
        """What is fitted together: one kind of feature, with or without as-new values."""
        return self.scale.feature, self.scale.known


@attrs.frozen(kw_only=True)
class Known:
    """What the visits are held against: designs by name, bases by key, today's limits."""

    designs: Mapping[str, Design]
    bases: Mapping[str, Basis]
    today: datetime.date

    def scales_of(self, visit: VisitFacts) -> Scales:
        """The limits in force today over the hoist of a visit; none where it has no design."""
        design = self.designs.get(visit.design)
        if design is None:
            return {}
        try:
            return scales(design, self.bases_of(visit), self.today)
        except FaultsError:
            return {}

    def bases_of(self, visit: VisitFacts) -> tuple[Basis, ...]:
        return tuple(self.bases[key] for key in visit.bases if key in self.bases)


def year_of(day: datetime.date) -> float:
    """Years since the epoch.

    >>> year_of(datetime.date(2001, 1, 1)) > 1
    True
    """
    return (day - EPOCH).days / DAYS_A_YEAR


def day_at(years: float) -> datetime.date:
    return EPOCH + datetime.timedelta(days=round(years * DAYS_A_YEAR))


def made_on(manufactured: str) -> datetime.date | None:
    """The day a hoist counts as new by its plate: the middle of the year, or of the month.

    >>> made_on("2024"), made_on("03/2025"), made_on("not readable")
    (datetime.date(2024, 7, 1), datetime.date(2025, 3, 15), None)
    """
    text = manufactured.strip()
    found = re.fullmatch(r"(?:(\d{1,2})[/.-])?((?:19|20)\d\d)(?:[/.-](\d{1,2})(?:[/.-]\d{1,2})?)?",
                         text)  # fmt: skip
    if found is None:
        return None
    month = int(found[1] or found[3] or 0)
    if month > 12:
        return None
    return datetime.date(int(found[2]), month, 15) if month else datetime.date(int(found[2]), 7, 1)


def histories(visits: Iterable[VisitFacts], known: Known) -> tuple[History, ...]:
    """The histories of all hoists: only visits whose examination is finished count.

    Args:
        visits: of any hoists, in any order.
        known: designs, bases and the day.

    Returns:
        One history for each part and feature of a hoist that was ever read; design and limits
        are those of its last visit.

    References:
        `docs/wear.md`: renewals reset; readings before and after a renewal.
    """
    out: list[History] = []
    met: dict[tuple[str, tuple[str, ...]], Scales] = {}
    for hoist, many in by_hoist(visits).items():
        done = [visit for visit in many if visit.examined]
        if done:
            key = done[-1].design, done[-1].bases
            if key not in met:
                met[key] = known.scales_of(done[-1])
            out += _of_hoist(hoist, done, known, met[key])
    return tuple(out)


def by_hoist(visits: Iterable[VisitFacts]) -> dict[str, list[VisitFacts]]:
    """The visits of each hoist, the earliest first."""
    found: dict[str, list[VisitFacts]] = {}
    for visit in sorted(visits, key=lambda v: (v.day, v.job)):
        found.setdefault(visit.hoist, []).append(visit)
    return found


def _of_hoist(
    hoist: str, visits: Sequence[VisitFacts], known: Known, over: Scales
) -> Iterator[History]:
    last = visits[-1]
    design = known.designs.get(last.design)
    if design is None:
        return
    parts = {part.key for part in design.parts}
    renewed = {
        visit.job: set(with_companions(design, [n.part for n in visit.new if n.part in parts]))
        for visit in visits
    }
    found = [dict(by_feature(visit.found)) for visit in visits]
    left = [dict(by_feature(visit.left)) for visit in visits]
    for key, scale in over.items():
        marks = [
            _Seen(
                visit=visit,
                found=worn(design, scale, of_visit.get(key, ())),
                left=worn(design, scale, after.get(key, ())),
                renewed=scale.part in renewed[visit.job],
            )
            for visit, of_visit, after in zip(visits, found, left, strict=True)
        ]
        made = _history(hoist, scale, marks, last)
        if made is not None:
            yield made


@attrs.frozen(kw_only=True)
class _Seen:
    """What one visit says of one feature."""

    visit: VisitFacts
    found: Worn | None
    left: Worn | None
    renewed: bool


def _history(
    hoist: str,
    scale: Scale,
    marks: Sequence[_Seen],
    last: VisitFacts,
) -> History | None:
    readings: list[Mark] = []
    starts: list[Start] = []
    renewals: list[tuple[datetime.date, str]] = []
    for seen in marks:
        if seen.found is not None:
            readings.append(_mark(seen.visit, seen.found))
        if seen.renewed:
            renewals.append((seen.visit.day, seen.visit.job))
            if not scale.known and seen.left is None:  # what is new is not known: begin anew
                readings, starts = [], []
            starts.append(_renewal(scale, seen.visit, seen.left))
    if not readings and not starts:
        return None
    first = _first(scale, last, readings, starts)
    series = Series(
        hoist=hoist,
        group=(last.design, last.service),
        starts=_rising([*first, *starts]),
        readings=tuple(
            WearReading(time=year_of(mark.day), value=mark.share, uncertainty=mark.u)
            for mark in readings
        ),
    )
    return History(
        hoist=hoist,
        scale=scale,
        readings=tuple(readings),
        renewals=tuple(renewals),
        series=series,
    )


def _mark(visit: VisitFacts, found: Worn) -> Mark:
    return Mark(day=visit.day, job=visit.job, share=found.share, u=found.u, place=found.place)


def _renewal(scale: Scale, visit: VisitFacts, left: Worn | None) -> Start:
    time = year_of(visit.day)
    if left is not None:
        return Start(time=time, value=left.share, uncertainty=left.u)
    if not scale.known:
        return Start(time=time, value=None)
    return Start(time=time, value=0.0, uncertainty=scale.new_u / abs(scale.span))


def _first(
    scale: Scale, last: VisitFacts, readings: Sequence[Mark], renewals: Sequence[Start]
) -> list[Start]:
    """How the part that was in at the first visit began; nothing where none was read."""
    if not readings:
        return []
    begun = year_of(readings[0].day)
    if renewals and renewals[0].time < begun:
        return []
    made = made_on(last.identity.manufactured)
    if scale.known and made is not None and 0 < begun - year_of(made) <= AS_OLD_AS_THE_HOIST:
        return [Start(time=year_of(made), value=0.0, uncertainty=scale.new_u / abs(scale.span))]
    return [Start(time=begun - A_DAY, value=None)]


def _rising(starts: Sequence[Start]) -> tuple[Start, ...]:
    """Two renewals of one day are one: the later one stands."""
    out: list[Start] = []
    for start in starts:
        if out and start.time <= out[-1].time:
            start = attrs.evolve(start, time=out[-1].time)  # noqa: PLW2901
            out.pop()
        out.append(start)
    return tuple(out)
