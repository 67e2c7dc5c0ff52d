"""Springs."""

from __future__ import annotations

import math

import numpy as np

from hoistwright.drawing.shapes.body import Bar, Body
from hoistwright.drawing.shapes.catalogue import Size, shape


@shape("helical spring", outer=16, inner=12, thickness=36, teeth=7)
def helical_spring(size: Size) -> Body:
    """A compression spring with `teeth` turns along the axis."""
    wire = (size.outer - size.inner) / 2
    radius, turns = (size.outer - wire) / 2, size.teeth
    turn = np.linspace(0, 2 * math.pi * turns, turns * 16 + 1)
    along = np.linspace(wire / 2, size.thickness - wire / 2, len(turn))
    path = np.column_stack([radius * np.cos(turn), radius * np.sin(turn), along])
    return Body(solids=(Bar(path=path, radius=wire / 2, piece=4),), length=size.thickness)


@shape("leg spring", outer=20, inner=15, thickness=12, height=26)
def leg_spring(size: Size) -> Body:
    """A torsion spring: close coils with a leg at each end (pawl spring, latch spring)."""
    wire = (size.outer - size.inner) / 2
    radius = (size.outer - wire) / 2
    count = max(2, round((size.thickness - wire) / (wire * 1.25)))
    turn = np.linspace(0, 2 * math.pi * count, count * 16 + 1)
    along = np.linspace(wire / 2, size.thickness - wire / 2, len(turn))
    coil = np.column_stack([radius * np.cos(turn), radius * np.sin(turn), along])
    first = [[radius, -size.height * share, wire / 2] for share in (1.0, 0.5)]
    last = [[radius * 1.1, size.height * share, along[-1]] for share in (0.5, 1.0)]
    path = np.vstack([first, coil, last])
    return Body(solids=(Bar(path=path, radius=wire / 2, piece=4),), length=size.thickness)
