"""The hyperparameters of the wear model."""

from __future__ import annotations

import attrs


@attrs.frozen(kw_only=True)
class Spread:
    """How hoists differ and how wear wanders, all as standard deviations.

    rate: σ, of the wear rate among hoists of one group, value per time.
    wander: σ_B, of Brownian wander, value per √time.
    start: of unknown start values among hoists; start_rate: their correlation with the rate.
    noise: factor on the stated uncertainties of readings; 1 where they are taken as stated.
    levels: τ, of the mean rate among the groups of each level of the tree, widest first.
    """

    rate: float
    wander: float
    start: float = 0.0
    start_rate: float = 0.0
    noise: float = 1.0
    levels: tuple[float, ...] = ()
