"""The demo shop's hoists: invented serial numbers and tags of the seven Ardle designs."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from typing import TypeVar

import attrs
import numpy as np

from hoistwright.demo.customers import DemoCustomer, demo_customers, demo_trade
from hoistwright.hoist.library import shipped
from hoistwright.job.job_sheet import HoistIdentity, ServiceClass

T = TypeVar("T")

MONTHS: dict[ServiceClass, int] = {"normal": 12, "heavy": 6, "severe": 3}
"""How often the demo's customers send a hoist in: as its service class asks."""

_SERIALS = {
    "ardle-500": "A05-2{:04d}",
    "ardle-2000": "A2-1{:04d}",
    "ardle-2000-ol": "A2L-1{:03d}",
    "ardle-3000": "A3-1{:04d}",
    "ardle-10000": "A10-0{:03d}",
    "ardle-l750": "AL-6{:03d}",
    "ardle-l3000": "AL3-1{:03d}",
}


@attrs.frozen(kw_only=True)
class DemoHoist:
    """One hoist. `number` counts all of them, from 0."""

    number: int
    design: str
    serial: str
    tag: str
    customer: DemoCustomer
    premises: str
    service: ServiceClass

    def identity(self, made: datetime.date) -> HoistIdentity:
        """What its data plate says."""
        design = shipped(self.design)
        return HoistIdentity(
            maker=design.identity.maker,
            model=design.identity.model,
            serial=self.serial,
            manufactured=f"{made:%m/%Y}",
            rated_load=design.rating.rated_load,
            tag=self.tag,
        )


def demo_fleet(count: int, rng: np.random.Generator) -> tuple[DemoHoist, ...]:
    """So many hoists, spread over the customers by their shares."""
    return tuple(_hoists(count, rng))


def _hoists(count: int, rng: np.random.Generator) -> Iterator[DemoHoist]:
    owners = _spread(count, demo_customers())
    serials = {key: _numbers(pattern, count, rng) for key, pattern in _SERIALS.items()}
    for number, (customer, place) in enumerate(owners):
        trade = demo_trade(customer.trade)
        design = drawn(rng, tuple(trade.designs), tuple(trade.designs.values()))
        rest = max(0.0, 1.0 - trade.heavy - trade.severe)
        classes: tuple[ServiceClass, ...] = ("normal", "heavy", "severe")
        yield DemoHoist(
            number=number,
            design=design,
            serial=next(serials[design]),
            tag=f"{customer.tag}-{place + 1:02d}",
            customer=customer,
            premises=drawn(rng, customer.premises),
            service=drawn(rng, classes, (rest, trade.heavy, trade.severe)),
        )


def _spread(count: int, customers: Sequence[DemoCustomer]) -> Iterator[tuple[DemoCustomer, int]]:
    """Each customer with the running number of its hoists, in turn, as its share allows."""
    total = sum(customer.share for customer in customers)
    had = [0] * len(customers)
    for place in range(count):
        owed = [(place + 1) * c.share / total - n for c, n in zip(customers, had, strict=True)]
        who = int(np.argmax(owed))
        yield customers[who], had[who]
        had[who] += 1


def _numbers(pattern: str, count: int, rng: np.random.Generator) -> Iterator[str]:
    """Rising serial numbers with gaps."""
    for place in range(count):
        yield pattern.format(3 * place + int(rng.integers(0, 3)))


def drawn(rng: np.random.Generator, items: Sequence[T], weights: Sequence[float] = ()) -> T:
    """One of several, by weight."""
    share = np.asarray(weights, float) if weights else np.ones(len(items))
    return items[int(rng.choice(len(items), p=share / share.sum()))]
