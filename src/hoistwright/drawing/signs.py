"""How a part's state is shown without colour: a sign at its balloon and a hatch on its faces.

Signs are drawn as paths, so that they look the same with every font.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

State = Literal["fit", "renew", "borderline", "not established"]
STATES: tuple[State, ...] = ("fit", "renew", "borderline", "not established")

Move = Literal["off", "on", "none"]
"""What lit parts do: they come off, they go on, or they are only marked (no arrow)."""

LIT_WORDS: Mapping[Move, str] = {"off": "comes off now", "on": "goes on now", "none": "marked"}

# Each sign is drawn in a square of 4 units about its middle.
SIGNS: Mapping[str, str] = {
    "fit": "M-1.5 0.1L-0.4 1.3L1.6 -1.4",
    "renew": "M-1.7 -1.7H1.7V1.7H-1.7ZM-1.0 -1.0L1.0 1.0M-1.0 1.0L1.0 -1.0",
    "borderline": (
        "M-1.7 -0.3C-1.1 -1.3 -0.5 -1.3 0 -0.7S1.1 -0.1 1.7 -1.1"
        "M-1.7 1.1C-1.1 0.1 -0.5 0.1 0 0.7S1.1 1.3 1.7 0.3"
    ),
    "not established": (
        "M-1.0 -0.8C-1.0 -1.5 -0.5 -1.8 0 -1.8S1.0 -1.4 1.0 -0.8C1.0 0 0 -0.1 0 0.8M0 1.5L0 1.8"
    ),
}

RENEWED = "renewed"
"""No verdict: the part that had one is out, and a new one is in."""
ALL_SIGNS: Mapping[str, str] = {**SIGNS, RENEWED: "M0 -1.8L1.8 1.4H-1.8Z"}
"""With the sign of a part that was renewed: the triangle of the histories."""

# Hatch of a part's faces: lines in a square tile of `HATCH_TILE` millimetres.
HATCH_TILE = 1.8
HATCHES: Mapping[str, str] = {
    "renew": "M0 0L1.8 1.8M0 1.8L1.8 0",
    "borderline": "M0 1.8L1.8 0M-0.2 0.2L0.2 -0.2M1.6 2L2 1.6",
    "not established": "M0.9 0.75L0.9 1.05",
    "lit": "M0 0.9L1.8 0.9",
}
