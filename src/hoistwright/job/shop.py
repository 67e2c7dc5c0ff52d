"""The shop: its people, gauges and test weights, and which bases they have adopted."""

from __future__ import annotations

import datetime
from functools import cached_property
from typing import Literal

import attrs

from hoistwright.basis.adoption import Adoption
from hoistwright.job.charges import Charges
from hoistwright.job.gauges import gauge_of
from hoistwright.metrology import Gauge
from hoistwright.quantity import Angle, Force, Length, Mass

Role = Literal["technician", "competent person", "counter", "read-only"]


@attrs.frozen(kw_only=True)
class Person:
    """Somebody of the shop. `qualification` is what a report of examination must state."""

    key: str
    name: str
    roles: tuple[Role, ...]
    qualification: str = ""


@attrs.frozen(kw_only=True)
class TestWeight:
    """A marked test weight with the uncertainty of its calibration (k = 2)."""

    __test__ = False  # not a test, whatever its name

    key: str
    mass: Mass
    uncertainty: Mass
    count: int = 1
    due_on: datetime.date | None = None


@attrs.frozen(kw_only=True)
class GaugeEntry:
    """A gauge as the shop file writes it. Give the three figures of its kind with units."""

    key: str
    name: str
    kind: str
    resolution: Length | None = None
    uncertainty: Length | None = None
    resolution_angle: Angle | None = None
    uncertainty_angle: Angle | None = None
    resolution_force: Force | None = None
    uncertainty_force: Force | None = None
    coverage_factor: float = 2.0
    calibrated_on: datetime.date | None = None
    due_on: datetime.date | None = None
    certificate: str = ""
    reads_from: Length | None = None
    reads_to: Length | None = None


@attrs.frozen(kw_only=True)
class Shop:
    """A shop file."""

    format: int
    name: str
    address: str
    demo: bool = False
    language: Literal["en", "fr"] = "en"
    """Of papers, where the customer has chosen none."""
    people: tuple[Person, ...] = ()
    gauges: tuple[GaugeEntry, ...] = ()
    test_weights: tuple[TestWeight, ...] = ()
    adoptions: tuple[Adoption, ...] = ()
    charges: Charges | None = None
    """What work costs; None: this shop makes no quotes."""

    def person(self, key: str) -> Person | None:
        """The person with this key, or None."""
        return next((person for person in self.people if person.key == key), None)

    def all_gauges(self) -> tuple[Gauge, ...]:
        """The gauges, ready to calculate with."""
        return self._gauges_made

    @cached_property
    def _gauges_made(self) -> tuple[Gauge, ...]:
        return tuple(gauge_of(entry) for entry in self.gauges)

    def adopters(self) -> tuple[str, ...]:
        """Keys of those who may adopt a basis: the competent persons."""
        return tuple(person.key for person in self.people if "competent person" in person.roles)
