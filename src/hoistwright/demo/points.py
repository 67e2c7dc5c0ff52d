"""What is looked at and measured on each design of the demo shop, made once for each."""

from __future__ import annotations

import datetime
import functools

from hoistwright.basis.loading import shipped_basis
from hoistwright.basis.rulings import rulings
from hoistwright.examine.points import Point, points
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped

BASES = ("b30-hand-hoists", "workshop-practice")
"""What the demo shop examines by."""

LIMITS_OF = datetime.date(2026, 9, 1)
"""The limits of this day stand for the whole history: none of them changed in it."""

CHAIN = "load_chain.gauge_length"


@functools.cache
def demo_points(design: str) -> tuple[Point, ...]:
    """Every ruled point of a shipped design, references too."""
    known = shipped(design)
    bases = [shipped_basis(key) for key in BASES]
    return tuple(p for p in points(known, rulings(known, bases, LIMITS_OF)) if p.rulings)


def chain_points(design: Design) -> tuple[Point, ...]:
    """The gauge lengths of the load chain."""
    return tuple(p for p in demo_points(design.key) if p.feature == CHAIN and not p.reference)
