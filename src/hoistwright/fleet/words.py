"""Chances and days as people say them. English; pages put them into their language."""

from __future__ import annotations

import datetime

SURE = 0.97


def chance_words(p: float) -> str:
    """A probability as odds that one can picture.

    >>> [chance_words(p) for p in (0.0004, 0.05, 0.32, 0.5, 0.7, 0.99)]
    ['less than 1 in 500', 'about 1 in 20', 'about 1 in 3', 'about 1 in 2', 'about 7 in 10', 'almost certain']
    """  # noqa: E501
    if p >= SURE:
        return "almost certain"
    if p >= 0.55:
        return f"about {round(10 * p)} in 10"
    if p < 0.002:
        return "less than 1 in 500"
    return f"about 1 in {_rounded(1 / p)}"


def _rounded(odds: float) -> int:
    """To a figure that nobody takes for exact."""
    for limit, step in ((10, 1), (30, 5), (100, 10), (1000, 50)):
        if odds < limit:
            return max(2, step * round(odds / step))
    return 500


def monday(day: datetime.date) -> datetime.date:
    """The Monday of its week.

    >>> monday(datetime.date(2026, 11, 25)).isoformat()
    '2026-11-23'
    """
    return day - datetime.timedelta(days=day.weekday())


def percent(share: float) -> str:
    """A share to whole per cent."""
    return f"{100 * share:.0f} %"
