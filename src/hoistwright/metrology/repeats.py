"""Standard uncertainties from repeated readings (type A)."""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs

from hoistwright.metrology.arrays import as_floats

SELDOM = 0.01  # a scatter met in fewer than 1 of 100 such series is not the usual scatter


@attrs.frozen
class Scatter:
    """A standard deviation of single readings, with its degrees of freedom."""

    deviation: float
    dof: float


def scatter(readings: Sequence[float]) -> Scatter:
    """Experimental standard deviation s with n − 1 degrees of freedom.

    Args:
        readings: two or more readings of the same thing.

    References:
        JCGM 100:2008 (GUM), 4.2.2, from memory.

    >>> scatter([10.1, 10.3, 10.2])
    Scatter(deviation=0.1..., dof=2.0)
    """
    values = as_floats(readings)
    if values.ndim != 1 or values.size < 2:
        raise ValueError(f"got {values.size} reading(s); expected two or more of the same thing")
    return Scatter(float(values.std(ddof=1)), float(values.size - 1))


def pooled_scatter(series: Sequence[Sequence[float]]) -> Scatter:
    """The common scatter of several series, each of its own thing.

    s_p² = Σ ν_i s_i² / Σ ν_i. Series with a single reading add nothing.

    Args:
        series: series of readings, all in the same unit.

    References:
        JCGM 100:2008 (GUM), 4.2.4 and H.3.6, from memory.

    >>> pooled_scatter([[1.0, 3.0], [5.0, 7.0]])
    Scatter(deviation=1.414..., dof=2.0)
    """
    parts = [scatter(readings) for readings in series if len(readings) > 1]
    dof = sum(part.dof for part in parts)
    if dof == 0:
        raise ValueError("no series has two readings; expected at least one that has")
    squares = sum(part.dof * part.deviation**2 for part in parts)
    return Scatter(math.sqrt(squares / dof), dof)


def usual_or_own(own: Scatter, usual: Scatter) -> Scatter:
    """The shop's usual scatter, unless this series scatters far more than is usual.

    A handful of repeats knows its own scatter badly, so the pooled figure stands; but a series
    whose scatter would be met in fewer than 1 of 100 is judged by itself (F test).

    Args:
        own: scatter of this series.
        usual: pooled scatter from earlier work.

    References:
        JCGM 100:2008 (GUM), 4.2.4 (a pooled figure, if the measurement stays in statistical
        control), from memory.

    >>> usual_or_own(Scatter(0.02, 2.0), Scatter(0.01, 60.0)).dof
    60.0
    """
    from scipy.special import chdtrc, fdtrc

    if own.deviation <= usual.deviation:
        return usual
    if usual.deviation == 0:
        return own
    ratio = (own.deviation / usual.deviation) ** 2
    if math.isinf(usual.dof):
        chance = float(chdtrc(own.dof, own.dof * ratio))
    else:
        chance = float(fdtrc(own.dof, usual.dof, ratio))
    return own if chance < SELDOM else usual
