"""A basis (criteria from one published source) and its criteria, as their files state them."""

from __future__ import annotations

import datetime
from typing import Literal

import attrs

from hoistwright.hoist.design import Kind
from hoistwright.hoist.limits import Comparison
from hoistwright.quantity import Duration, Length, Ratio

Known = Literal["read", "memory", "practice"]
"""How we know a limit: its text was seen, from memory, or common practice without a source."""

Use = Literal["decides", "number check"]
"""A number check pins a published table and never judges a hoist."""


@attrs.frozen(kw_only=True)
class Source:
    """One standard, regulation, book or practice, named once in SOURCES.toml."""

    key: str
    title: str
    issuer: str = ""
    note: str = ""


@attrs.frozen(kw_only=True)
class DatedLimit:
    """The limit as one edition states it.

    `value` carries its unit ("2.5 %", "10°", "6 mm"); empty for a look and for a table.
    `until` is the last day of a limit that a later edition dropped without another in its
    place. `in_force_on` is the last day on which somebody looked that the edition still stood.
    """

    since: datetime.date
    until: datetime.date | None = None
    value: str = ""
    source: str
    clause: str
    edition: str
    known: Known
    checked_by: str = ""
    in_force_on: datetime.date | None = None
    note: str = ""


@attrs.frozen(kw_only=True)
class Applies:
    """What a criterion is for. Empty means any."""

    kinds: tuple[Kind, ...] = ()
    chain_grades: tuple[str, ...] = ()
    falls_at_least: int = 1


@attrs.frozen(kw_only=True)
class SizeRow:
    size: str
    value: str


@attrs.frozen(kw_only=True)
class Criterion:
    """One discard criterion: a feature, a comparison, dated limits, and what to do."""

    id: str
    title: str
    feature: str
    comparison: Comparison
    limit: tuple[DatedLimit, ...]
    use: Use = "decides"
    of: Literal["each", "mean of directions", "smallest"] = "each"
    by_analogy: str = ""
    """Why a limit written for other equipment is used here; empty where it is not."""
    applies: Applies = attrs.Factory(Applies)
    gauge_from: Length | None = None
    gauge_to: Length | None = None
    gauge_links: int | None = None
    action: str = ""
    table: tuple[SizeRow, ...] = ()
    """Limits by nominal size, for tables (number checks)."""


@attrs.frozen(kw_only=True)
class DecisionRule:
    """The shop's decision rule (design decision 3).

    guarded: fit only with the guard band r u kept from the limit. maximum probability: fit
    only if the probability beyond the limit is at most `most_probability`. simple: by the
    reading alone; for comparison, cannot release.
    """

    kind: Literal["guarded", "maximum probability", "simple"] = "guarded"
    guard_factor: float = 2.0
    most_probability: float = 0.05


@attrs.frozen(kw_only=True)
class Interval:
    """The longest time until the next examination, in months or in days."""

    name: str
    months: int = 0
    days: int = 0
    kind: Literal["frequent", "periodic", "thorough"]
    source: str
    clause: str
    edition: str
    known: Known
    note: str = ""


@attrs.frozen(kw_only=True)
class ReportItem:
    """One thing that a report of examination must contain."""

    number: str
    what: str
    source: str
    clause: str
    known: Known


@attrs.frozen(kw_only=True)
class LoadTest:
    """A proof that a source asks for. Loads are shares of the rated load; None: none stated."""

    name: str
    when: str
    load_from: Ratio | None = None
    load_to: Ratio | None = None
    hold: Duration | None = None
    for_kinds: tuple[Kind, ...] = ()
    source: str
    clause: str
    edition: str
    known: Known
    note: str = ""


@attrs.frozen(kw_only=True)
class Keeping:
    """How long a record must be kept."""

    what: str
    until: str
    source: str
    clause: str
    edition: str
    known: Known


@attrs.frozen(kw_only=True)
class BasisHead:
    """The basis's own file, `basis.toml`."""

    format: int
    key: str
    title: str
    jurisdiction: str = ""
    for_kinds: tuple[Kind, ...] = ()
    governs_when_stricter: bool = False
    """True where the source says it stands before a maker's more generous figure."""
    rule: DecisionRule = attrs.Factory(DecisionRule)
    note: str = ""
    interval: tuple[Interval, ...] = ()
    report_item: tuple[ReportItem, ...] = ()
    load_test: tuple[LoadTest, ...] = ()
    keeping: tuple[Keeping, ...] = ()


@attrs.frozen(kw_only=True)
class Basis:
    """A basis with all its criteria. `digest` is the SHA-256 of its files: what is adopted."""

    head: BasisHead
    criteria: tuple[Criterion, ...]
    sources: tuple[Source, ...]
    digest: str = attrs.field(default="", eq=False)

    @property
    def key(self) -> str:
        return self.head.key


def limit_on(criterion: Criterion, day: datetime.date) -> DatedLimit | None:
    """The dated limit in force on `day`; None before the first and after a dropped one."""
    past = [limit for limit in criterion.limit if limit.since <= day]
    if not past:
        return None
    last = max(past, key=lambda limit: limit.since)
    return None if last.until is not None and last.until < day else last
