"""Hoists of the history that are in the shop again today, each left at some stage. Invented.

One of them is the hoist whose chain is fit today and will not last until its next visit.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator

import attrs
import numpy as np

from hoistwright.demo.fleet import MONTHS
from hoistwright.demo.history import SEED, History, PastJob, worked
from hoistwright.demo.numbers import next_number
from hoistwright.demo.readings import rack_of
from hoistwright.demo.said import Bench
from hoistwright.demo.visit import visit
from hoistwright.demo.will_not_last import wearing_visits
from hoistwright.demo.worn import Life, working_day
from hoistwright.job.events import StageName
from hoistwright.job.shop import Shop

STOPS: tuple[StageName, ...] = (
    "book in", "strip", "rebuild", "prove", "prove", "release", "release",
)  # fmt: skip
"""The stage at which each hoist has come to rest."""

DUE = datetime.timedelta(days=45)
"""A hoist that comes again was due no longer ago than this, nor will be later."""


def in_shop(history: History, shop: Shop) -> Iterator[PastJob]:
    """The jobs of hoists that are here again, last the one whose chain will not last."""
    bench = Bench(shop=shop, rack=rack_of(shop))
    today, number = history.today, next_number(history.planned)
    again = _again(history, today)
    for place, (life, stop) in enumerate(zip(again, STOPS, strict=False)):
        rng = np.random.default_rng([SEED, place])
        day = working_day(today - datetime.timedelta(days=len(STOPS) - place))
        worn = attrs.evolve(life.coming, day=day)
        one = visit(
            f"KQ-{number + place:04d}",
            life.hoist, life.made, worn, life.visits[-1].day, rng,
        )  # fmt: skip
        words = tuple(worked(one, bench, rng, stop=stop))
        yield PastJob(job=one.job, visit=one, on_card=False, told=words)
    *_, last = wearing_visits(today)
    rng = np.random.default_rng([SEED, last.hoist.number])
    one = attrs.evolve(last, job=f"KQ-{number + len(STOPS):04d}")
    words = tuple(worked(one, bench, rng, stop="renew"))
    yield PastJob(job=one.job, visit=one, on_card=False, told=words)


def _again(history: History, today: datetime.date) -> list[Life]:
    """Hoists about due, from as many customers as there are, the longest due first."""
    left = {p.visit.hoist.number for p in history.planned if p.visit.leaves != "released"}
    due = {life.hoist.number: _due(life) for life in history.lives}
    near = [
        life
        for life in history.lives
        if abs(due[life.hoist.number] - today) <= DUE and life.hoist.number not in left
    ]
    near.sort(key=lambda life: (due[life.hoist.number], life.hoist.number))
    first = list({life.hoist.customer.name: life for life in reversed(near)}.values())[::-1]
    return [*first, *(life for life in near if life not in first)]


def _due(life: Life) -> datetime.date:
    months = MONTHS[life.hoist.service]
    return life.visits[-1].day + datetime.timedelta(days=round(months * 30.44))
