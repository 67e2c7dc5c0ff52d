"""Ranges that common practice or a standard expects, as data with their sources."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from importlib import resources
from typing import Literal

import attrs

from hoistwright.check.facts import Fact, constant
from hoistwright.check.model import Sense, Severity
from hoistwright.check.rows import Bound
from hoistwright.datafile import load_text
from hoistwright.quantity import Dimension, parse


@attrs.frozen(kw_only=True)
class Range:
    """What is usual for one figure. `low` or `high` may be empty."""

    key: str
    dimension: str
    low: str = ""
    high: str = ""
    source: str
    known: Literal["read", "memory", "practice", "derived"]

    @property
    def least(self) -> Fact:
        return self._si(self.low)

    @property
    def most(self) -> Fact:
        return self._si(self.high)

    def _si(self, text: str) -> Fact:
        if not text:
            return Fact()
        return constant(parse(text, Dimension(self.dimension), decimal=".").si)


@attrs.frozen(kw_only=True)
class Ranges:
    range: tuple[Range, ...]


@functools.cache
def ranges() -> Mapping[str, Range]:
    file = resources.files("hoistwright.check") / "practice.toml"
    loaded = load_text(file.read_text(encoding="utf-8"), Ranges, file="practice.toml")
    return {item.key: item for item in loaded.range}


def limit(name: str) -> float:
    """The one bound of a range that has only one."""
    item = ranges()[name]
    fact = item.most if item.high else item.least
    assert fact.value is not None
    return fact.value


def usual(
    name: str,
    *,
    key: str,
    severity: Severity | None = "doubtful",
    mend: str = "",
    shown: bool = False,
) -> list[Bound]:
    """The range `name` as bounds of a figure. `shown` shows its upper, else its lower end."""
    item = ranges()[name]
    sides: list[tuple[Sense, Fact]] = [("at most", item.most), ("at least", item.least)]
    known = [(sense, fact) for sense, fact in sides if fact.known]
    return [
        Bound(
            sense=sense,
            fact=fact,
            source=item.source,
            severity=severity,
            shown=shown and place == 0,
            key=key,
            mend=mend,
        )
        for place, (sense, fact) in enumerate(known)
    ]
