"""Load chain by the drum: which batch went into which hoist, so that one can be recalled."""

from __future__ import annotations

import datetime

from hoistwright.demo.visit import Visit
from hoistwright.hoist.library import shipped


def chain_batch(wire: float, day: datetime.date) -> str:
    """The batch that was on the drum on a day: one for each wire and half-year.

    >>> chain_batch(0.008, datetime.date(2026, 4, 9))
    'chain 8.0 mm, batch LC-2601-80'
    """
    half = 1 if day.month <= 6 else 7
    return f"chain {wire * 1e3:.1f} mm, batch LC-{day:%y}{half:02d}-{wire * 1e4:.0f}"


def trace_of(visit: Visit, part: str) -> str:
    """What is written down of a new part; empty where nothing is."""
    wire = shipped(visit.hoist.design).load_chain.wire
    if part == "load_chain" and wire is not None:
        return chain_batch(wire, visit.day)
    return ""
