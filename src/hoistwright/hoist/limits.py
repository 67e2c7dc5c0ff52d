"""A maker's limit in a design file."""

from __future__ import annotations

from typing import Literal

import attrs

Comparison = Literal[
    "elongation",
    "rise from as new",
    "loss from as new",
    "rise by",
    "loss by",
    "at most",
    "at least",
    "in order",
]
"""How a reading is held against a limit:

elongation       (L - L_ref) / (n p) of a chain gauge length, at most the limit (a ratio)
rise from as new (x - x0) / x0, at most the limit (a ratio)
loss from as new (x0 - x) / x0, at most the limit (a ratio)
rise by          x - x0, at most the limit (in the feature's own unit)
loss by          x0 - x, at most the limit (in the feature's own unit)
at most          x, at most the limit
at least         x, at least the limit
in order         a look: the answer must be "in order"
"""


@attrs.frozen(kw_only=True)
class MakerLimit:
    """One limit of the maker. For the shipped Ardle designs all are invented."""

    feature: str
    """The measured feature, as `role.feature`, for example `hook.throat`."""
    comparison: Comparison
    limit: str = ""
    """With its unit ("3 mm", "2.5 %"); checked against the feature's dimension."""
    part: str = ""
    """Only for this part; empty for every part of the role."""
    as_new: str = ""
    """What the feature has as new, with its unit, where the maker states it and no other table
    of the design does; without it nobody can say how far a reading has come."""
    source: str
    """Where the maker states it; "invented" for a design that is invented."""
    action: str = ""
