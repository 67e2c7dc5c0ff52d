"""What is fitted together: one kind of feature over all hoists, and what comes of it."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

import attrs
import numpy as np

from hoistwright.fleet.histories import History, year_of
from hoistwright.wear.prognosis import (
    FleetForecast,
    Prognosis,
    forecast,
    foretell,
    widest_gap,
)
from hoistwright.wear.visits import stack

FitKey = tuple[str, bool]
"""Feature, and whether as-new values exist."""

LONGEST = 15.0
"""Years looked ahead."""
CHANGED = 0.02
"""Share of histories that may change before the fit is made anew: so few move it by less than
its own doubt."""
LEAST_CHANGED = 2

NOTHING_YET = (
    "No part of this kind has been read twice, or since it was new: nothing can be said about "
    "its wear yet. Go by the interval."
)

NOT_KNOWN = (
    "No forecast: its as-new value is not known, and the part has not been read twice. State the "
    "as-new value in the design file."
)


@attrs.frozen(kw_only=True, eq=False)
class FeatureOutlook:
    """A history with its prognosis; None where the fleet's readings do not bear one out."""

    history: History
    prognosis: Prognosis | None
    doubts: tuple[str, ...] = ()

    @property
    def part(self) -> str:
        return self.history.scale.part

    @property
    def chance(self) -> float:
        """Of being beyond the limit by the day of the next visit; 0 where nobody can say."""
        return self.prognosis.beyond_by_horizon if self.prognosis else 0.0

    @property
    def wear_years(self) -> float:
        """Years since 2000 at which the chance reaches what is allowed; infinity: never."""
        found = self.prognosis
        return self.history.series.last_time + found.time_to_risk if found else float("inf")

    def chance_by(self, day: datetime.date) -> float:
        """Of being beyond the limit by a day."""
        return self._reaches(1.0, day)

    def chance_not_fit(self, day: datetime.date) -> float:
        """Of being beyond the limit or inside the guard band before it by a day: what the next
        examination will most likely not call fit.
        """
        marks = self.history.readings
        u = marks[-1].u if marks else 0.0
        return self._reaches(1.0 - self.history.scale.guard * u, day)

    def _reaches(self, share: float, day: datetime.date) -> float:
        from hoistwright.wear.passage import beyond_by

        if self.prognosis is None:
            return 0.0
        time = max(year_of(day) - self.history.series.last_time, 0.0)
        return float(beyond_by(self.prognosis.state, share * self.prognosis.limit, time))


@attrs.frozen(kw_only=True)
class Asked:
    """A history, and how many years ahead of its last entry the next visit is."""

    history: History
    ahead: float

    @property
    def place(self) -> tuple[str, str]:
        return self.history.hoist, self.history.scale.part


@attrs.frozen(kw_only=True, eq=False)
class Bundle:
    """Histories that were fitted together. `fitted` is None where they bear out no fit.
    `drift`: how many changed since.
    """

    asked: tuple[Asked, ...]
    outlooks: tuple[FeatureOutlook, ...]
    fitted: FleetForecast | None
    drift: int = 0

    @property
    def doubts(self) -> tuple[str, ...]:
        return self.fitted.check.trust if self.fitted else ()


def bundle_of(asked: Sequence[Asked], risk: float, before: Bundle | None) -> Bundle:
    """The outlook of every history.

    Where an earlier fit is there and few histories changed since, only those are forecast anew,
    by that fit.

    Args:
        asked: histories of one kind of feature.
        risk: chance from which a hoist is called back.
        before: an earlier bundle of the same kind, forecast with the same risk.

    Returns:
        The bundle.

    References:
        `wear.prognosis`.
    """
    kept = _kept(asked, before)
    if kept is not None and before is not None:
        changed = [item for item in asked if item.place not in kept]
        most = max(LEAST_CHANGED, round(CHANGED * len(asked)))
        if before.drift + len(changed) <= most:
            again = _by_earlier_fit(changed, risk, before)
            if again is not None:
                new = dict(zip((item.place for item in changed), again, strict=True))
                outlooks = tuple(kept.get(i.place) or new[i.place] for i in asked)
                return Bundle(
                    asked=tuple(asked),
                    outlooks=outlooks,
                    fitted=before.fitted,
                    drift=before.drift + len(changed),
                )
    return _fitted(asked, risk)


def _kept(
    asked: Sequence[Asked], before: Bundle | None
) -> dict[tuple[str, str], FeatureOutlook] | None:
    """Outlooks of histories that are as they were; None where there is no fit to go by."""
    if before is None or before.fitted is None:
        return None
    old = {
        item.place: (item, outlook)
        for item, outlook in zip(before.asked, before.outlooks, strict=True)
    }
    return {
        item.place: old[item.place][1]
        for item in asked
        if item.place in old and old[item.place][0] == item
    }


def _by_earlier_fit(
    asked: Sequence[Asked], risk: float, before: Bundle
) -> list[FeatureOutlook] | None:
    """None where a group is not in the fit."""
    fitted = before.fitted
    if not asked or fitted is None:
        return []
    many = [item.history.series for item in asked]
    try:
        visits = stack(many, fitted.visits.tree)
        prognoses = foretell(
            many, 1.0, visits=visits, found=fitted.fit, horizon=_ahead(asked), risk=risk,
            longest=LONGEST, widest=widest_gap(fitted.visits),
        )  # fmt: skip
    except ValueError:
        return None
    return _outlooks(asked, prognoses)


def _fitted(asked: Sequence[Asked], risk: float) -> Bundle:
    many = [item.history.series for item in asked]
    try:
        found = forecast(many, 1.0, horizon=_ahead(asked), risk=risk, longest=LONGEST)
    except ValueError:  # the readings say nothing about the mean rate: all read once
        nothing = [
            FeatureOutlook(history=item.history, prognosis=None, doubts=(NOTHING_YET,))
            for item in asked
        ]
        return Bundle(asked=tuple(asked), outlooks=tuple(nothing), fitted=None)
    outlooks = tuple(_outlooks(asked, found.prognoses))
    return Bundle(asked=tuple(asked), outlooks=outlooks, fitted=found)


def _ahead(asked: Sequence[Asked]) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return np.array([item.ahead for item in asked], dtype=np.float64)


def _outlooks(asked: Sequence[Asked], prognoses: Sequence[Prognosis]) -> list[FeatureOutlook]:
    return [
        _outlook(item.history, prognosis) for item, prognosis in zip(asked, prognoses, strict=True)
    ]


def _outlook(history: History, prognosis: Prognosis) -> FeatureOutlook:
    """Without an as-new value only differences count: what was read once tells nothing."""
    if not history.scale.known and _readings_of_this_part(history) < 2:
        return FeatureOutlook(history=history, prognosis=None, doubts=(NOT_KNOWN,))
    doubts = (*prognosis.doubts, *(suspect.sentence() for suspect in prognosis.suspects))
    return FeatureOutlook(history=history, prognosis=prognosis, doubts=doubts)


def _readings_of_this_part(history: History) -> int:
    """Readings since it was put in; that on the day itself counts, too."""
    series = history.series
    last = max(series.starts, key=lambda start: start.time, default=None)
    if last is None:
        return len(series.readings)
    return sum(reading.time > last.time for reading in series.readings) + (last.value is not None)
