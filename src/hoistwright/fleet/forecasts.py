"""Fit all histories of a shop and say what is to be expected of each feature of each hoist."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping, Sequence

import attrs

from hoistwright.fleet.bundles import Asked, Bundle, FeatureOutlook, FitKey, bundle_of
from hoistwright.fleet.histories import History, Known, by_hoist, histories, year_of
from hoistwright.fleet.intervals import interval_of
from hoistwright.fleet.visit_facts import VisitFacts
from hoistwright.wear.next_visit import interval_day

RISK = 0.05
"""The chance of being beyond its limit that a part may have before its hoist is called back."""
USUAL_MONTHS = 12
"""Looked ahead where no basis states an interval (assumed)."""


@attrs.frozen(kw_only=True, eq=False)
class Fleet:
    """All hoists of a shop: their visits, and the outlook of every feature that is read."""

    visits: Mapping[str, tuple[VisitFacts, ...]]
    """Of each hoist, the earliest first."""
    outlooks: Mapping[str, tuple[FeatureOutlook, ...]]
    bundles: Mapping[FitKey, Bundle]
    known: Known
    risk: float = RISK

    def doubts(self, key: FitKey) -> tuple[str, ...]:
        """Reasons for doubt about everything that was fitted together."""
        bundle = self.bundles.get(key)
        return bundle.doubts if bundle else ()


def fleet(
    visits: Iterable[VisitFacts],
    known: Known,
    *,
    risk: float = RISK,
    before: Fleet | None = None,
) -> Fleet:
    """Fit and forecast a shop's hoists.

    Args:
        visits: all of them.
        known: designs, bases, the day.
        risk: chance of being beyond a limit from which a hoist is called back.
        before: an earlier fleet; its fits serve again while few histories changed since.

    Returns:
        The fleet. A feature about whose rate no reading tells anything has no prognosis.

    References:
        `wear.fitting.fit`, `wear.prognosis.forecast`; groups design and service class.
    """
    each = by_hoist(visits)
    horizons = {hoist: year_of(_horizon(many, known)) for hoist, many in each.items()}
    found: dict[FitKey, list[Asked]] = {}
    for history in _histories(each, known, before):
        ahead = max(horizons[history.hoist] - history.series.last_time, 1e-3)
        found.setdefault(history.key, []).append(Asked(history=history, ahead=ahead))
    old = before.bundles if before is not None and before.risk == risk else {}
    bundles = {key: bundle_of(many, risk, old.get(key)) for key, many in found.items()}
    outlooks: dict[str, list[FeatureOutlook]] = {}
    for bundle in bundles.values():
        for outlook in bundle.outlooks:
            outlooks.setdefault(outlook.history.hoist, []).append(outlook)
    return Fleet(
        visits={hoist: tuple(many) for hoist, many in each.items()},
        outlooks={hoist: tuple(many) for hoist, many in outlooks.items()},
        bundles=bundles,
        known=known,
        risk=risk,
    )


def _histories(
    each: Mapping[str, Sequence[VisitFacts]], known: Known, before: Fleet | None
) -> Iterator[History]:
    """The histories of all hoists; of those whose visits are as they were, the earlier ones."""
    old = before if before is not None and before.known == known else None
    changed: list[VisitFacts] = []
    for hoist, many in each.items():
        if old is not None and old.visits.get(hoist) == tuple(many):
            yield from (outlook.history for outlook in old.outlooks.get(hoist, ()))
        else:
            changed += many
    yield from histories(changed, known)


def _horizon(visits: Sequence[VisitFacts], known: Known) -> datetime.date:
    """The day of the next visit by the interval, from the last visit on."""
    last = visits[-1]
    interval = interval_of(known.bases_of(last), last.service, last.chosen)
    if interval is not None:
        return interval_day(last.day, interval)
    return last.day + datetime.timedelta(days=round(USUAL_MONTHS * 30.4369))
