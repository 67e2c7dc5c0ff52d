"""What the last visits of a hoist say about it when it is booked in again."""

from __future__ import annotations

import datetime

import attrs

from hoistwright.hoist.design import Design
from hoistwright.job.events import BookedIn
from hoistwright.job.state import LEFT, JobState
from hoistwright.job.to_entries import day_of
from hoistwright.store.model import HoistRow
from hoistwright.web.bench import Bench
from hoistwright.web.designs import design_named

_LOOKED_BACK = 6
"""Visits that are searched for the last examination."""


@attrs.frozen(kw_only=True)
class Before:
    """A hoist of the register, with what its last visit said and when it was examined last."""

    hoist: HoistRow
    booked: BookedIn | None = None
    bases: tuple[str, ...] = ()
    design: Design | None = None
    examined_on: datetime.date | None = None
    here: bool = False
    """Its last job has not left the shop."""


def before_of(bench: Bench, key: str) -> Before | None:
    """What is known of a hoist by its key; None where the register has none."""
    hoist = bench.store.hoist(key) if key else None
    if hoist is None:
        return None
    last = bench.store.state(hoist.last_job)
    line = bench.store.job(hoist.last_job)
    return Before(
        hoist=hoist,
        booked=last.booked,
        bases=last.bases,
        design=design_named(bench, hoist.design) if hoist.design else None,
        examined_on=_examined_on(bench, key, last),
        here=line is not None and line.stage != LEFT,
    )


def _examined_on(bench: Bench, key: str, last: JobState) -> datetime.date | None:
    """The last examination here that was finished; else what the customer said last time."""
    jobs = sorted(bench.store.jobs(hoist=key), key=lambda line: line.opened_at)
    states = [bench.store.state(line.job) for line in jobs[-_LOOKED_BACK:]]
    days = [day for state in states if _examined(state) and (day := day_of(state))]
    said = last.booked.last_examined_on if last.booked else None
    return max([*days, *([said] if said else [])], default=None)


def _examined(state: JobState) -> bool:
    return "examine" in state.finished or state.certificate is not None
