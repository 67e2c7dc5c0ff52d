"""Numbers of the history's jobs and paper certificates, around those of the demo's job sheets."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Iterator, Sequence

import attrs

from hoistwright.demo.planned import Planned

SHEETS_FROM = datetime.date(2026, 10, 5)
"""The day of the first job sheet, which is KQ-0401; the last one is KQ-0412."""

BEFORE, AFTER = 400, 413


def numbered(planned: Sequence[Planned]) -> Iterator[Planned]:
    """Cards by year; jobs in one row, with room for the job sheets where their days are."""
    early = sum(not p.on_card and p.visit.day < SHEETS_FROM for p in planned)
    row = iter(range(BEFORE + 1 - early if early <= BEFORE else 1001, 10_000))
    later = iter(range(AFTER, 1000))
    cards: Counter[int] = Counter()
    for one in planned:
        day = one.visit.day
        if one.on_card:
            cards[day.year] += 1
            place = cards[day.year]
            yield _with(one, f"card-{day:%y}-{place:03d}", f"B{day.year}-{place:03d}")
        else:
            number = next(row) if day < SHEETS_FROM else next(later)
            yield _with(one, f"KQ-{number:04d}", f"P-{number:04d}")


def _with(one: Planned, job: str, certificate: str) -> Planned:
    return attrs.evolve(one, visit=attrs.evolve(one.visit, job=job, certificate=certificate))


def next_number(planned: Sequence[Planned]) -> int:
    """The first number that no job after the job sheets has."""
    after = sum(not p.on_card and p.visit.day >= SHEETS_FROM for p in planned)
    return AFTER + after
