"""Axonometric projection: from a part's own axes to the paper.

World axes: x along the main shaft from wheel side to gear side, y away from the viewer, z up.
Paper axes: x to the right, y up (the writer turns y over at the end). Lengths in millimetres.
"""

from __future__ import annotations

import math

import attrs
import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]

AZIMUTH = math.radians(33.0)
"""Turn of the main shaft out of the paper: discs show the face on the wheel side."""
ELEVATION = math.radians(20.0)
"""How far the viewer looks down."""


def _view() -> tuple[Points, Points]:
    ca, sa, ce, se = (
        math.cos(AZIMUTH),
        math.sin(AZIMUTH),
        math.cos(ELEVATION),
        math.sin(ELEVATION),
    )
    to_paper = np.array([[ca, se * sa], [-sa, se * ca], [0.0, ce]])
    to_viewer = np.array([-ce * sa, -ce * ca, se])
    return to_paper, to_viewer


TO_PAPER, TO_VIEWER = _view()


@attrs.frozen(eq=False)
class Frame:
    """Where a part's own axes (u, v, w) point in the world; w runs along the stack."""

    axes: Points
    """Rows: the unit vectors u, v and w in world axes."""

    def paper(self, points: Points) -> Points:
        """Points (n, 3) in the part's axes → (n, 2) on the paper, before scaling."""
        out: Points = points @ (self.axes @ TO_PAPER)
        return out

    def nearness(self, points: Points) -> Points:
        """How near each point (n, 3) is to the viewer; larger is nearer."""
        out: Points = points @ (self.axes @ TO_VIEWER)
        return out

    @property
    def viewer(self) -> Points:
        """Direction to the viewer in the part's axes."""
        out: Points = self.axes @ TO_VIEWER
        return out


SHAFT = Frame(np.array([[0.0, -1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]]))
"""Stack along the main shaft: u towards the viewer's right, v up, w to the gear side."""
HANGING = Frame(np.array([[1.0, 0.0, 0.0], [0.0, -1.0, 0.0], [0.0, 0.0, -1.0]]))
"""Stack downwards: u along the shaft, v to the viewer, w down."""
