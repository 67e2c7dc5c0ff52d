"""When a hoist must be back, and why: the day signed, the basis's interval, or wear."""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence
from typing import Literal

import attrs

from hoistwright.basis.model import Interval
from hoistwright.fleet.bundles import FeatureOutlook
from hoistwright.fleet.forecasts import Fleet
from hoistwright.fleet.histories import EPOCH
from hoistwright.fleet.intervals import interval_of
from hoistwright.fleet.visit_facts import VisitFacts
from hoistwright.fleet.words import chance_words, monday, percent
from hoistwright.job.next_due import WearDate
from hoistwright.wear.next_visit import interval_day, wear_day

Reason = Literal["wear", "interval", "certificate"]

LEAST_DAYS = 14
"""No hoist is called back sooner after it left (common practice): what would not last so long
does not leave."""
WINDOW_SHARE = 1 / 12
"""Of the time between visits: how much before its day a hoist is taken in (common practice)."""


@attrs.frozen(kw_only=True, eq=False)
class Due:
    """`day` is the last day; `earliest` from when it makes sense to take the hoist in.

    Of the three candidates any may be missing; the soonest counts and `reason` says which.
    """

    hoist: str
    last: VisitFacts
    day: datetime.date
    earliest: datetime.date
    reason: Reason
    why: str
    by_interval: datetime.date | None
    by_certificate: datetime.date | None
    by_wear: datetime.date | None
    interval: Interval | None
    worst: FeatureOutlook | None
    """The feature that reaches its limit first, where wear says anything."""

    @property
    def paper(self) -> datetime.date | None:
        """The day that the certificate states, else the one of the interval."""
        return self.by_certificate or self.by_interval

    def overdue(self, today: datetime.date) -> bool:
        """The day on paper has passed."""
        return self.paper is not None and self.paper < today

    def wear_now(self, today: datetime.date) -> bool:
        """Wear asks for it now, while the day on paper is still to come: a call, no breach."""
        return self.reason == "wear" and self.day <= today and not self.overdue(today)

    def chance_now(self, today: datetime.date) -> float:
        """Of some part being beyond its limit today: that of its likeliest feature."""
        return self.worst.chance_by(today) if self.worst else 0.0


def due_of(fleet: Fleet, hoist: str, last: datetime.date | None = None) -> Due | None:
    """When a hoist must be back.

    day = min(day of the certificate, else last + interval; day by which the chance of some
    part being beyond its limit reaches what the shop allows)

    The day by wear is rounded down to the Monday, and not sooner than two weeks after the visit.

    Args:
        fleet: forecast.
        hoist: its key.
        last: the day from which the interval counts; that of its last visit where None.

    Returns:
        Day, candidates and reason; None where nothing gives a day.

    References:
        the basis's own intervals; `wear.due`; the margins are common practice.
    """
    visits = fleet.visits.get(hoist, ())
    if not visits:
        return None
    visit = visits[-1]
    since = last or visit.day
    interval = interval_of(fleet.known.bases_of(visit), visit.service, visit.chosen)
    by_interval = interval_day(since, interval) if interval else None
    signed = visit.next_due if last is None else None
    worst, by_wear = _by_wear(fleet.outlooks.get(hoist, ()), since)
    paper = signed or by_interval
    days = [day for day in (paper, by_wear) if day is not None]
    if not days:
        return None
    day = min(days)
    reason: Reason = "wear" if by_wear is not None and day == by_wear != paper else (
        "certificate" if signed else "interval"
    )  # fmt: skip
    return Due(
        hoist=hoist,
        last=visit,
        day=day,
        earliest=_earliest(since, day, by_interval),
        reason=reason,
        why=_why(reason, visit, interval, worst, paper),
        by_interval=by_interval,
        by_certificate=signed,
        by_wear=by_wear,
        interval=interval,
        worst=worst,
    )


def _by_wear(
    outlooks: Sequence[FeatureOutlook], since: datetime.date
) -> tuple[FeatureOutlook | None, datetime.date | None]:
    sound = [outlook for outlook in outlooks if outlook.prognosis is not None]
    worst = min(sound, key=lambda o: (o.wear_years, -o.chance), default=None)
    if worst is None or not math.isfinite(worst.wear_years):
        return max(sound, key=lambda o: o.chance, default=None), None
    day = wear_day(EPOCH, worst.wear_years)
    if day is None:
        return worst, None
    return worst, max(monday(day), since + datetime.timedelta(days=LEAST_DAYS))


def _earliest(
    since: datetime.date, day: datetime.date, by_interval: datetime.date | None
) -> datetime.date:
    whole = ((by_interval or day) - since).days
    ahead = max(LEAST_DAYS, round(whole * WINDOW_SHARE))
    return max(min(monday(day - datetime.timedelta(days=ahead)), day), min(since, day))


def _why(
    reason: Reason,
    visit: VisitFacts,
    interval: Interval | None,
    worst: FeatureOutlook | None,
    paper: datetime.date | None,
) -> str:
    if reason == "wear" and worst is not None:
        title = worst.history.scale.title
        if paper is None:
            return f"{title}: may reach its limit from then on."
        odds = chance_words(worst.chance_by(paper))
        return (
            f"{title}: the chance of being beyond its limit by {paper.isoformat()}, when it would "
            f"be due, is {odds}."
        )
    if reason == "certificate":
        return f"Certificate {visit.certificate}."
    assert interval is not None
    length = f"{interval.months} months" if interval.months else f"{interval.days} days"
    return f"Interval for {interval.name}: {length} ({interval.source}, {interval.clause})."


def wear_date(fleet: Fleet, hoist: str, since: datetime.date) -> WearDate | None:
    """The day by wear alone, for a certificate that is to be signed.

    Args:
        fleet: forecast, with the visit that ends now in it.
        hoist: its key.
        since: the day of this visit.

    Returns:
        The day and the part with its chance; None where wear brings no part to its limit within
        the time looked at.
    """
    worst, day = _by_wear(fleet.outlooks.get(hoist, ()), since)
    if worst is None or day is None:
        return None
    title, allowed = worst.history.scale.title, percent(fleet.risk)
    return WearDate(
        day=day,
        what=f"{title}: the chance of being beyond its limit reaches {allowed} then",
    )


def all_due(fleet: Fleet) -> tuple[Due, ...]:
    """Every hoist at work that has a day: overdue ones first, the longest before the others; then
    those that wear asks for now, the likeliest beyond its limit first; then by day.
    """
    today = fleet.known.today
    each = (due_of(fleet, hoist) for hoist, visits in fleet.visits.items() if visits[-1].in_use)
    found = [due for due in each if due is not None]

    def order(due: Due) -> tuple[int, float, str]:
        if due.overdue(today):
            return 0, float((due.paper or due.day).toordinal()), due.hoist
        if due.wear_now(today):
            return 1, -due.chance_now(today), due.hoist
        return 2, float(due.day.toordinal()), due.hoist

    return tuple(sorted(found, key=order))
