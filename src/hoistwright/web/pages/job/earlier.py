"""Readings of earlier visits, as ghosts on the rulers of today."""

from __future__ import annotations

import math
from collections.abc import Mapping

import attrs

from hoistwright.examine.points import Address
from hoistwright.examine.verdict import Verdict
from hoistwright.store.model import ReadingRow
from hoistwright.web.pages.job.case import Case

MOST_GHOSTS = 6


@attrs.frozen(kw_only=True)
class Earlier:
    """Earlier readings by address, the oldest first."""

    by_address: Mapping[Address, tuple[ReadingRow, ...]]

    @classmethod
    def of(cls, case: Case) -> Earlier:
        rows = case.visit.bench.store.earlier_readings(case.line.hoist, before_job=case.job)
        found: dict[Address, list[ReadingRow]] = {}
        for row in rows:
            found.setdefault((row.part, row.feature, row.place), []).append(row)
        return cls(by_address={key: tuple(items) for key, items in found.items()})


def ghosts(verdict: Verdict, earlier: Earlier) -> tuple[float, ...]:
    """Earlier values of the judged quantity.

    Every judged quantity is a straight line of the reading: nought at as new, and today's value
    at today's reading. On that line the earlier readings are placed.
    """
    judged = verdict.judgement
    rows = earlier.by_address.get((verdict.part, verdict.feature, verdict.place), ())
    readings = [row.mean for row in rows[-MOST_GHOSTS:]]
    if judged is None or not readings:
        return ()
    if judged.name == "reading":
        return tuple(readings)
    if verdict.baseline is None:
        return ()
    change = judged.reading - verdict.baseline.value
    if change == 0 or not math.isfinite(change):
        return ()
    slope = judged.value / change
    return tuple(slope * (reading - verdict.baseline.value) for reading in readings)
