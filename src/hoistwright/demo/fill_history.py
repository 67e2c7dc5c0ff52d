"""Entering the demo's history into a store: many whole jobs in one transaction."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol, TypeVar

from hoistwright.demo.history import TODAY, PastJob, plan, told
from hoistwright.demo.in_shop import in_shop
from hoistwright.demo.planned import Planned
from hoistwright.job.entry import Event
from hoistwright.job.shop import Shop
from hoistwright.store.model import Store
from hoistwright.store.restore import BATCH

T = TypeVar("T")


class Watched(Protocol):
    """Hands on what it is given, and shows meanwhile how far it is."""

    def __call__(self, items: Sequence[T], /) -> Iterable[T]: ...


def unwatched(items: Sequence[T], /) -> Iterable[T]:
    """Shows nothing."""
    return items


def fill_history(
    store: Store,
    shop: Shop,
    *,
    hoists: int,
    today: datetime.date = TODAY,
    watched: Watched = unwatched,
) -> tuple[int, int]:
    """Enter the history of so many hoists; how many jobs, and how many entries.

    The entries go in as from an export, sealed by the chain of their jobs, so that a store
    cannot tell them from entries made one by one.
    """
    history = plan(hoists=hoists, today=today)
    jobs = entries = 0
    for batch in batches(_every(watched(history.planned), shop)):
        entries += store.restore(batch)
    for job in in_shop(history, shop):
        entries += store.restore(job.events())
        jobs += 1
    return jobs + len(history.planned), entries


def _every(planned: Iterable[Planned], shop: Shop) -> Iterator[PastJob]:
    for one in planned:
        yield told(one, shop)


def batches(jobs: Iterable[PastJob]) -> Iterator[list[Event]]:
    """The entries of whole jobs, as many as one transaction takes."""
    batch: list[Event] = []
    for job in jobs:
        events = list(job.events())
        if batch and len(batch) + len(events) > BATCH:
            yield batch
            batch = []
        batch += events
    if batch:
        yield batch
