"""The wear of a job's parts over the visits as pictures, where there is a forecast."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from hoistwright.fleet.bundles import FeatureOutlook
from hoistwright.fleet.due import due_of
from hoistwright.web.outlooks import HistoryView, history_view
from hoistwright.web.pages.job.case import Case
from hoistwright.web.visit import Visit
from hoistwright.web.whole_fleet import whole_fleet


def wear_plots(
    case: Case, parts: Collection[str], visit: Visit | None = None
) -> Mapping[str, HistoryView]:
    """For each part, the feature that is likeliest to reach its limit, with its picture.

    `visit` is another one than the case's where the words are for somebody else.
    """
    if not parts:
        return {}
    fleet, hoist = whole_fleet(case.visit.bench), case.line.hoist
    worst: dict[str, FeatureOutlook] = {}
    for outlook in fleet.outlooks.get(hoist, ()):
        known = worst.get(outlook.part)
        if outlook.part in parts and (known is None or outlook.chance > known.chance):
            worst[outlook.part] = outlook
    due = due_of(fleet, hoist)
    day = due.by_interval if due else None
    return {
        part: history_view(visit or case.visit, outlook, day, f"wear-{part}")
        for part, outlook in worst.items()
    }
