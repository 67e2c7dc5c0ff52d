"""Fit all histories of a shop and say what is to be expected of each feature of each hoist."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping, Sequence

import attrs
import numpy as np

from hoistwright.fleet.histories import History, Known, by_hoist, histories, year_of
from hoistwright.fleet.intervals import interval_of
from hoistwright.fleet.visit_facts import VisitFacts
from hoistwright.wear.checking import ModelCheck
from hoistwright.wear.next_visit import interval_day
from hoistwright.wear.prognosis import Prognosis, forecast

RISK = 0.05
"""The chance of being beyond its limit that a part may have before its hoist is called back."""
LONGEST = 15.0
"""Years looked ahead."""
USUAL_MONTHS = 12
"""Looked ahead where no basis states an interval (assumed)."""

FitKey = tuple[str, bool]


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
        from hoistwright.wear.passage import beyond_by

        if self.prognosis is None:
            return 0.0
        time = max(year_of(day) - self.history.series.last_time, 0.0)
        return float(beyond_by(self.prognosis.state, self.prognosis.limit, time))


@attrs.frozen(kw_only=True, eq=False)
class Fleet:
    """All hoists of a shop: their visits, and the outlook of every feature that is read."""

    visits: Mapping[str, tuple[VisitFacts, ...]]
    """Of each hoist, the earliest first."""
    outlooks: Mapping[str, tuple[FeatureOutlook, ...]]
    checks: Mapping[FitKey, ModelCheck]
    known: Known
    risk: float = RISK

    def doubts(self, key: FitKey) -> tuple[str, ...]:
        """Reasons for doubt about everything that was fitted together."""
        check = self.checks.get(key)
        return check.trust if check else ()


def fleet(visits: Iterable[VisitFacts], known: Known, *, risk: float = RISK) -> Fleet:
    """Fit and forecast a shop's hoists.

    Args:
        visits: all of them.
        known: designs, bases, the day.
        risk: chance of being beyond a limit from which a hoist is called back.

    Returns:
        The fleet. A feature about whose rate no reading tells anything has no prognosis.

    References:
        `wear.fitting.fit`, `wear.prognosis.forecast`; groups design and service class.
    """
    each = by_hoist(visits)
    horizons = {hoist: _horizon(many, known) for hoist, many in each.items()}
    bundles: dict[FitKey, list[History]] = {}
    for history in histories((v for many in each.values() for v in many), known):
        bundles.setdefault(history.key, []).append(history)
    outlooks: dict[str, list[FeatureOutlook]] = {}
    checks: dict[FitKey, ModelCheck] = {}
    for key, many in bundles.items():
        found, check = _fitted(many, horizons, risk)
        for outlook in found:
            outlooks.setdefault(outlook.history.hoist, []).append(outlook)
        if check is not None:
            checks[key] = check
    return Fleet(
        visits={hoist: tuple(many) for hoist, many in each.items()},
        outlooks={hoist: tuple(found) for hoist, found in outlooks.items()},
        checks=checks,
        known=known,
        risk=risk,
    )


def _horizon(visits: Sequence[VisitFacts], known: Known) -> datetime.date:
    """The day of the next visit by the interval, from the last visit on."""
    last = visits[-1]
    interval = interval_of(known.bases_of(last), last.service, last.chosen)
    if interval is not None:
        return interval_day(last.day, interval)
    return last.day + datetime.timedelta(days=round(USUAL_MONTHS * 30.4369))


def _fitted(
    many: Sequence[History], horizons: Mapping[str, datetime.date], risk: float
) -> tuple[list[FeatureOutlook], ModelCheck | None]:
    ahead = [max(year_of(horizons[h.hoist]) - h.series.last_time, 1e-3) for h in many]
    try:
        found = forecast(
            [h.series for h in many], 1.0, horizon=np.array(ahead), risk=risk, longest=LONGEST
        )
    except ValueError:  # the readings say nothing about the mean rate: all read once
        return [
            FeatureOutlook(history=h, prognosis=None, doubts=(NOTHING_YET,)) for h in many
        ], None
    outlooks = [
        FeatureOutlook(history=history, prognosis=prognosis, doubts=_doubts(history, prognosis))
        for history, prognosis in zip(many, found.prognoses, strict=True)
    ]
    return outlooks, found.check


NOTHING_YET = (
    "No part of this kind has been read twice, or since it was new: nothing can be said about "
    "its wear yet. Go by the interval."
)


def _doubts(history: History, prognosis: Prognosis) -> tuple[str, ...]:
    return (*prognosis.doubts, *(s.sentence() for s in prognosis.suspects))
