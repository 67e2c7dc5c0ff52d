"""Bands of friction coefficients for the faces and the thread of a load brake.

They are material data, not discard limits. Friction scatters by a factor of two or three
within one state, so every figure that rests on friction is given as a band. A design file
that knows its lining better gives its own band.
"""

from __future__ import annotations

import attrs
import numpy as np


@attrs.frozen
class FrictionBand:
    """Least and greatest credible friction coefficient of a state, and where they are from."""

    state: str
    low: float
    high: float
    source: str

    def __attrs_post_init__(self) -> None:
        """Refuse a band that is upside down or no friction."""
        if not (np.isfinite(self.high) and 0 < self.low <= self.high):
            raise ValueError(
                f"friction band {self.state!r}: given {self.low} to {self.high}; "
                "expected 0 < low <= high."
            )


FACE_BANDS = {
    band.state: band
    for band in (
        FrictionBand("dry", 0.25, 0.45, "Shigley, woven and moulded linings dry; from memory"),
        FrictionBand("worn", 0.15, 0.30, "glazed lining; common practice, no published figure"),
        FrictionBand("greasy", 0.08, 0.20, "grease smear; common practice, no published figure"),
        FrictionBand("oily", 0.05, 0.20, "handbook tables, lining faces oiled: 0.05 to 0.2"),
    )
}
"""Friction of the disc faces by their state."""

THREAD_BANDS = {
    band.state: band
    for band in (
        FrictionBand("dry", 0.15, 0.25, "Shigley, table 8-5, steel on steel dry; from memory"),
        FrictionBand("oiled", 0.11, 0.17, "Shigley, table 8-5, machine oil; from memory"),
    )
}
"""Friction of the drive-shaft thread by its state."""
