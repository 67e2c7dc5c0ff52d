"""What a history plot shows, as plain values: days, figures as a gauge reads them, and words."""

from __future__ import annotations

import datetime
from collections.abc import Callable

import attrs
import numpy as np

from hoistwright.fleet.bundles import FeatureOutlook
from hoistwright.fleet.histories import day_at, year_of

COVERAGE = 0.9
_STEPS = 24


@attrs.frozen(kw_only=True)
class PlotTexts:
    """The words of a plot in the reader's language, and how days and figures are written."""

    limit: str = "limit"
    new: str = "as new"
    renewed: str = "renewed"
    next_visit: str = "next visit"
    today: str = "today"
    title: str = ""
    told: str = ""
    """The picture in a sentence, for who cannot see it."""
    day: Callable[[datetime.date], str] = datetime.date.isoformat
    figure: Callable[[float], str] = "{:.4g}".format
    """A figure of the axis, in the plot's own unit."""
    unit: str = ""


@attrs.frozen(kw_only=True)
class Plotted:
    """One reading: when, what was read, and its U."""

    day: datetime.date
    value: float
    expanded: float


@attrs.frozen(kw_only=True)
class PlotValues:
    """All in one unit. `limit_high`: more is worse."""

    readings: tuple[Plotted, ...]
    renewals: tuple[datetime.date, ...]
    days: tuple[datetime.date, ...]
    """Of the forecast, from the last reading or renewal on."""
    middle: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    new: float | None
    limit: float
    next_visit: datetime.date | None
    today: datetime.date | None = None

    @property
    def limit_high(self) -> bool:
        return self.new is None or self.limit > self.new


def plot_values(
    outlook: FeatureOutlook,
    *,
    factor: float,
    next_visit: datetime.date | None,
    today: datetime.date | None = None,
) -> PlotValues:
    """The values of a plot of one feature.

    x = x0 + y·(x_L − x0), in the unit of the plot; U is twice the standard uncertainty; the band
    holds the true wear with a probability of 90 %.

    Args:
        outlook: history and prognosis.
        factor: units of the plot in one SI unit (1000 for mm).
        next_visit: the day marked as such.
        today: the day marked as today.

    Returns:
        The values; no forecast where there is no prognosis.

    References:
        `wear.prognosis.Prognosis.band`.
    """
    scale, span = outlook.history.scale, abs(outlook.history.scale.span)
    days, middle, low, high = _ahead(outlook, next_visit, today)

    def figures(shares: list[float]) -> tuple[float, ...]:
        return tuple(factor * scale.reading(share) for share in shares)

    return PlotValues(
        readings=tuple(
            Plotted(day=mark.day, value=factor * scale.reading(mark.share),
                    expanded=2 * factor * mark.u * span)
            for mark in outlook.history.readings
        ),
        renewals=tuple(day for day, _ in outlook.history.renewals),
        days=days,
        middle=figures(middle),
        low=figures(low),
        high=figures(high),
        new=factor * scale.new if scale.known else None,
        limit=factor * scale.limit,
        next_visit=next_visit,
        today=today,
    )  # fmt: skip


def _ahead(
    outlook: FeatureOutlook, next_visit: datetime.date | None, today: datetime.date | None
) -> tuple[tuple[datetime.date, ...], list[float], list[float], list[float]]:
    if outlook.prognosis is None:
        return (), [], [], []
    begun = outlook.history.series.last_time
    ends = [year_of(day) for day in (next_visit, today) if day is not None]
    far = max([begun + 0.25, *ends]) - begun
    times = np.linspace(0.0, 1.15 * far, _STEPS)
    band = outlook.prognosis.band(times, COVERAGE)
    return (
        tuple(day_at(begun + float(t)) for t in times),
        band.mean.tolist(),
        band.low.tolist(),
        band.high.tolist(),
    )
