"""When a hoist must be back: the sooner of the basis's interval and the wear date."""

from __future__ import annotations

import calendar
import datetime
import math
from collections.abc import Sequence

import attrs

from hoistwright.basis.model import Interval

DAYS_A_YEAR = 365.2425


@attrs.frozen(kw_only=True)
class NextVisit:
    """`day` is the earlier of the two; `why` says in one sentence which and by what.

    `by_wear` is None where wear does not bring the part to its limit within the time looked
    at. A maker's manual or local law may ask for sooner.
    """

    day: datetime.date
    by_interval: datetime.date
    by_wear: datetime.date | None
    interval: Interval
    why: str


def interval_day(last: datetime.date, interval: Interval) -> datetime.date:
    """The last day of an interval: calendar months (cut to the end of the month), then days.

    >>> due = Interval(name="heavy service", months=6, kind="periodic", source="a",
    ...                clause="b", edition="c", known="practice")
    >>> interval_day(datetime.date(2026, 8, 31), due)
    datetime.date(2027, 2, 28)
    """
    if interval.months <= 0 and interval.days <= 0:
        raise ValueError(f"the interval {interval.name!r} has no length; expected months or days.")
    months = last.year * 12 + last.month - 1 + interval.months
    year, month = divmod(months, 12)
    day = min(last.day, calendar.monthrange(year, month + 1)[1])
    return datetime.date(year, month + 1, day) + datetime.timedelta(days=interval.days)


def wear_day(last: datetime.date, years: float) -> datetime.date | None:
    """The day `years` after `last`, rounded down; None for never, or beyond the calendar."""
    if not math.isfinite(years) or years * DAYS_A_YEAR > (datetime.date.max - last).days:
        return None
    return last + datetime.timedelta(days=math.floor(years * DAYS_A_YEAR))


def next_visit(
    last: datetime.date,
    intervals: Sequence[Interval],
    wear_years: float,
    *,
    what: str = "wear",
    probability: float | None = None,
) -> NextVisit:
    """The day by which a hoist must be back.

    day = min(last + interval, last + time until P(beyond the limit) = p)

    Args:
        last: day of this visit.
        intervals: those of the adopted bases for its service class; the shortest counts.
        wear_years: time until the wear date (`due.time_until`), years; infinity for never.
        what: which part and feature the wear date is for.
        probability: p, for the sentence.

    Returns:
        The day, both candidates, and why.

    Raises:
        ValueError: no interval, or one without a length.

    References:
        the interval's own source; wear date: `due`.

    >>> year = Interval(name="normal service", months=12, kind="periodic", source="a",
    ...                 clause="b", edition="c", known="practice")
    >>> found = next_visit(datetime.date(2026, 3, 1), [year], 0.5, what="load chain, elongation")
    >>> found.day.isoformat(), found.by_interval.isoformat()
    ('2026-08-30', '2027-03-01')
    """
    if not intervals:
        raise ValueError("no interval is given; expected that of an adopted basis.")
    interval = min(intervals, key=lambda each: interval_day(last, each))
    by_interval = interval_day(last, interval)
    by_wear = wear_day(last, wear_years)
    if by_wear is not None and by_wear < by_interval:
        risk = "" if probability is None else f" with a probability of {100 * probability:.3g} %"
        why = f"{what}: may be beyond the limit{risk} from then on, before the interval ends."
        return NextVisit(
            day=by_wear, by_interval=by_interval, by_wear=by_wear, interval=interval, why=why
        )
    why = f"interval for {interval.name} ({interval.source}, {interval.clause})."
    return NextVisit(
        day=by_interval, by_interval=by_interval, by_wear=by_wear, interval=interval, why=why
    )
