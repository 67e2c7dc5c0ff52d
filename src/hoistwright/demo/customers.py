"""The demo shop's customers and their trades, out of `data/customers.toml`. Invented."""

from __future__ import annotations

import functools

import attrs

from hoistwright.datafile import load_file
from hoistwright.demo.shop_files import demo_folder
from hoistwright.job.job_sheet import Customer
from hoistwright.wear.simulated_shop import SimulatedUse

LINING_WEAR = 1.0e-6
"""Archard's coefficient of linings in the demo: discs last six to twelve years."""


@attrs.frozen(kw_only=True)
class Trade:
    """A kind of customer: how such hoists are used, and which designs they have."""

    key: str
    lifts_a_year: float
    load_share: float
    overloads_a_year: float
    falls_dry_a_year: float
    heavy: float
    """Share of the hoists in heavy service; `severe` likewise; the others are in normal."""
    severe: float
    designs: dict[str, int]
    """Design key: weight."""
    complaints: tuple[str, ...]

    @property
    def use(self) -> SimulatedUse:
        return SimulatedUse(
            lifts=self.lifts_a_year,
            load_share=self.load_share,
            overloads=self.overloads_a_year,
            neglect=self.falls_dry_a_year,
            lining_wear_coefficient=LINING_WEAR,
        )


@attrs.frozen(kw_only=True)
class DemoCustomer:
    """One customer. `share` is its weight among all hoists, `tag` begins its own numbers."""

    name: str
    trade: str
    address: str
    premises: tuple[str, ...]
    tag: str
    share: int

    def at(self, premises: str) -> Customer:
        """As a job names it."""
        return Customer(name=self.name, address=self.address, premises=premises)


@attrs.frozen(kw_only=True)
class _File:
    trade: tuple[Trade, ...]
    customer: tuple[DemoCustomer, ...]


@functools.cache
def _file() -> _File:
    return load_file(demo_folder() / "customers.toml", _File)


def demo_customers() -> tuple[DemoCustomer, ...]:
    """All customers of the demo shop."""
    return _file().customer


def demo_trade(key: str) -> Trade:
    """A kind of customer by its key."""
    return next(trade for trade in _file().trade if trade.key == key)
