"""Load sheave bearings: life at rated load, told as metres of lift."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hoistwright.check import mechanism
from hoistwright.check.facts import Fact, derive, stated_in
from hoistwright.check.model import Finding
from hoistwright.check.rows import Row, findings
from hoistwright.hoist.design import Design
from hoistwright.hoist.machine import Bearing
from hoistwright.physics import bearings
from hoistwright.quantity import Dimension


def bearing_findings(design: Design) -> Iterator[Finding]:
    """Life of each bearing that carries the load sheave."""
    for bearing in design.bearings:
        if bearing.part.startswith("sheave_bearing") and bearing.kind != "bush":
            yield from findings(_row(design, bearing), _life(design, bearing))


def _life(design: Design, bearing: Bearing) -> Fact:
    """Each of the two bearings is taken to carry half of the live fall."""
    exponent = bearings.ROLLER if bearing.kind == "needle" else bearings.BALL
    load = derive(lambda F: F / 2, mechanism.live_fall(design))
    rating = stated_in(bearing, "bearings", "dynamic_capacity")
    turns = derive(lambda C, P: bearings.rating_life(C, P, exponent), rating, load)
    lift = derive(
        lambda D, n: math.pi * D / n, mechanism.sheave_diameter(design), mechanism.falls(design)
    )
    return derive(lambda L, s: _two_digits(L * s), turns, lift)


def _two_digits(value: float) -> float:
    """A rating life is known no better."""
    return float(f"{value:.1e}")


def _row(design: Design, bearing: Bearing) -> Row:
    names = {part.key: part.name for part in design.parts}
    return Row(
        key=f"{bearing.part}_life",
        name=f"{names.get(bearing.part, bearing.part)}, rating life as lift at rated load",
        dimension=Dimension.LENGTH,
        unit="m",
        how="10^6 (C / P)^a turns · lift per turn, P half of the live fall",
        source="ISO 281, from memory",
    )
