"""Twelve months of the demo shop, and what older cards tell: a pure maker of jobs. Invented.

The same seed gives the same hoists, visits and words. Nothing here knows of a store.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence

import attrs
import numpy as np

from hoistwright.demo.cards import card
from hoistwright.demo.fleet import demo_fleet
from hoistwright.demo.numbers import numbered
from hoistwright.demo.planned import Planned
from hoistwright.demo.readings import rack_of
from hoistwright.demo.said import SAID, Bench
from hoistwright.demo.sheet_cards import sheet_cards
from hoistwright.demo.visit import COMPETENT, Visit, visit
from hoistwright.demo.will_not_last import wearing_visits
from hoistwright.demo.worn import Life, lives
from hoistwright.job.entry import BEGINNING, Draft, Event, seal
from hoistwright.job.events import Body, StageFinished, StageName
from hoistwright.job.events_release import WITHOUT_REPAIR
from hoistwright.job.shop import Shop
from hoistwright.job.state import STAGES
from hoistwright.prove.release import Exit

TODAY = datetime.date(2026, 10, 20)
"""The demo's today: the day of its last job sheet."""

LAST_TODAY = datetime.date(2027, 2, 26)
"""A bench filled later has its history end here: until then the demo's gauges are in date."""

HOISTS = 300
SEED = 2026
CARDS_FROM = datetime.timedelta(days=5 * 365)
YEAR = datetime.timedelta(days=365)
MOST_CARDS = 4
"""Of one hoist; older ones were not taken over."""

NEW_CUSTOMER = 0.15
"""Share of the hoists that came for the first time within the twelve months."""

UNREPAIRED, CONDEMNED = 0.03, 0.01
"""Shares of the hoists whose last visit ended so."""


@attrs.frozen(kw_only=True)
class Told:
    """A word, by whom, when."""

    at: datetime.datetime
    by: str
    body: Body


@attrs.frozen(kw_only=True)
class PastJob:
    """A job of the history with all that was entered, in order."""

    job: str
    visit: Visit
    on_card: bool
    told: tuple[Told, ...]

    def events(self) -> Iterator[Event]:
        """The entries, sealed one after the other."""
        before = BEGINNING
        for seq, word in enumerate(self.told, start=1):
            draft = Draft(id=f"past-{self.job}-{seq:04d}", by=word.by, body=word.body)
            event = seal(draft, job=self.job, seq=seq, at=word.at, before=before)
            before = event.hash
            yield event


@attrs.frozen(kw_only=True)
class History:
    """All hoists with their lives, and all visits that anybody still knows of, by day."""

    lives: tuple[Life, ...]
    planned: tuple[Planned, ...]
    today: datetime.date


def plan(*, hoists: int = HOISTS, seed: int = SEED, today: datetime.date = TODAY) -> History:
    """All visits of the history, the earliest first, numbered in that order.

    Args:
        hoists: how many.
        seed: of everything by chance.
        today: the last day of the history.

    Returns:
        Visits of the last twelve months, and those on cards of the five years before.
    """
    rng = np.random.default_rng(seed)
    every = lives(demo_fleet(hoists, rng), today, rng)
    found = [one for life in every for one in _visits(life, today, rng)]
    *earlier, _ = wearing_visits(today)
    found += [Planned(visit=one, on_card=one.day <= today - YEAR) for one in earlier]
    found += sheet_cards()
    found.sort(key=lambda one: (one.visit.day, one.visit.hoist.number))
    return History(lives=every, planned=tuple(numbered(found)), today=today)


def told(planned: Planned, shop: Shop, *, seed: int = SEED) -> PastJob:
    """One visit in all its words. Each job has dice of its own, so any one can be told alone."""
    one = planned.visit
    rng = np.random.default_rng([seed, one.hoist.number, one.day.toordinal()])
    bench = Bench(shop=shop, rack=rack_of(shop))
    if planned.on_card:
        noon = datetime.datetime.combine(one.day, datetime.time(12), datetime.UTC)
        words = tuple(
            Told(at=noon + datetime.timedelta(seconds=n), by=COMPETENT, body=body)
            for n, body in enumerate(card(one, bench.rack, rng))
        )
    else:
        words = tuple(worked(one, bench, rng))
    return PastJob(job=one.job, visit=one, on_card=planned.on_card, told=words)


def worked(
    one: Visit, bench: Bench, rng: np.random.Generator, *, stop: StageName | None = None
) -> Iterator[Told]:
    """A visit at the bench, stage by stage; up to the middle of the stage `stop`."""
    clock = datetime.datetime.combine(one.day, datetime.time(6, 30), datetime.UTC)
    skipped = STAGES[3:-1] if one.leaves in WITHOUT_REPAIR else ()
    for stage in STAGES:
        if stage in skipped:
            continue
        bodies = list(SAID[stage](one, bench, rng))
        by = COMPETENT if stage == "release" else one.technician
        whole = stage != stop
        end: Sequence[Body] = [StageFinished(stage=stage)] if whole else []
        for body in (*(bodies if whole else bodies[: len(bodies) // 2]), *end):
            clock += datetime.timedelta(seconds=int(rng.integers(20, 90)))
            yield Told(at=clock, by=by, body=body)
        if not whole:
            return


def _visits(life: Life, today: datetime.date, rng: np.random.Generator) -> Iterator[Planned]:
    """The visits of one hoist that anybody still knows of."""
    bench_from = today - YEAR
    here = [n for n, w in enumerate(life.visits) if w.day > bench_from]
    known = rng.random() >= NEW_CUSTOMER
    cards = [n for n in range(here[0]) if life.visits[n].day > bench_from - CARDS_FROM + YEAR]
    for n in (*(cards[-MOST_CARDS:] if known else ()), *here):
        before = life.visits[n - 1].day if n and (known or n > here[0]) else None
        one = visit("", life.hoist, life.made, life.visits[n], before, rng)
        if n in cards:
            one = attrs.evolve(one, defects={})
        if n == len(life.visits) - 1:
            one = attrs.evolve(one, leaves=_leaves(one, rng))
        yield Planned(visit=one, on_card=n in cards)


def _leaves(one: Visit, rng: np.random.Generator) -> Exit:
    chance = rng.random()
    if not one.renewed:
        return "released"
    if chance < CONDEMNED * 3:
        return "condemned"
    return "returned unrepaired" if chance < 3 * (CONDEMNED + UNREPAIRED) else "released"
