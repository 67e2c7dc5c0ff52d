"""What a proof shows of the mechanism, each with its standard uncertainty; None: not seen.

Pulls are shares of the pull that the design expects for raising the load that hung there;
ripples are amplitudes over the mean pull; clicks and path are shares of what is expected;
creep is log10(1 + rate / CREEP_UNIT); drop in m; slip load over rated load.
"""

from __future__ import annotations

import math

import attrs

CREEP_UNIT = 0.0005 / 60
"""Half a millimetre a minute, m/s: below it creep is hardly seen."""

RIPPLES = ("ripple_shaft", "ripple_layshaft", "ripple_pocket", "ripple_sheave", "ripple_mesh")
MEASURED = (
    "pull_up", "pull_down", "pull_light", *RIPPLES, "creep", "clicks", "travel", "free_play",
    "stop_drop", "slip",
)  # fmt: skip
"""Observables that are figures, in the order they are told."""


@attrs.frozen(kw_only=True)
class Observed:
    """A figure and its standard uncertainty."""

    value: float
    u: float

    def __attrs_post_init__(self) -> None:
        """Refuse what is no figure; what is unknown is left out instead."""
        if not (math.isfinite(self.value) and math.isfinite(self.u) and self.u >= 0):
            raise ValueError(
                f"observed: given {self.value} with uncertainty {self.u}; expected finite "
                "figures, the uncertainty 0 or more; leave out what was not seen."
            )


@attrs.frozen(kw_only=True)
class Observables:
    """Everything seen. `load` and `light_load` in kg are the loads of the pulls."""

    load: float
    light_load: float = 0.0
    pull_up: Observed | None = None
    pull_down: Observed | None = None
    pull_light: Observed | None = None
    ripple_shaft: Observed | None = None
    ripple_layshaft: Observed | None = None
    ripple_pocket: Observed | None = None
    ripple_sheave: Observed | None = None
    ripple_mesh: Observed | None = None
    creep: Observed | None = None
    clicks: Observed | None = None
    travel: Observed | None = None
    free_play: Observed | None = None
    stop_drop: Observed | None = None
    slip: Observed | None = None
    held: bool | None = None
    """Whether the brake held the load after a little lowering."""
    lifted: bool | None = None
    """Whether the hoist raised the load without its limiter slipping."""
    pawls: int | None = None
    """How many pawls were heard, told apart."""

    def measured(self) -> dict[str, Observed]:
        """The figures there are, by name."""
        found = {name: getattr(self, name) for name in MEASURED}
        return {name: value for name, value in found.items() if value is not None}

    @property
    def missing(self) -> tuple[str, ...]:
        """What was not seen."""
        names = (*MEASURED, "held", "lifted", "pawls")
        return tuple(name for name in names if getattr(self, name) is None)


def creep_scale(rate: float) -> float:
    """A creep rate in m/s on the scale of the diagnosis.

    >>> round(creep_scale(0.0045 / 60), 3)
    1.0
    """
    return math.log10(1 + max(rate, 0.0) / CREEP_UNIT)
