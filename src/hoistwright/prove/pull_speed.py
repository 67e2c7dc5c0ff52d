"""Does the pull grow with the speed of the hand? Stiff grease does that, dry friction not."""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs
import numpy as np

from hoistwright.metrology import TWO_SIGMA, coverage_factor
from hoistwright.prove.record import Pull

LEAST_SPEEDS = 3


@attrs.frozen(kw_only=True)
class SpeedSlope:
    """Slope of pull over speed, N/(m/s), with its standard uncertainty and dof."""

    slope: float
    u: float
    dof: float
    why: str


def pull_against_speed(pulls: Sequence[Pull]) -> SpeedSlope | None:
    """Slope of the pull while raising one load at several speeds, by least squares.

    P = a + b v; u(b) = s / sqrt(sum (v - v_mean)²), s² = sum of squares / (n - 2)

    Args:
        pulls: pulls with the speed of the hand noted; those of the heaviest load count.

    Returns:
        The slope, or None with fewer than three different speeds.

    Raises:
        ValueError: never for pulls that could be recorded.

    >>> from hoistwright.prove.record import Readings
    >>> pulls = [Pull(pull=Readings(readings=(300 + 20 * v,)), load=1000, speed=v)
    ...          for v in (0.1, 0.2, 0.4)]
    >>> print(f"{pull_against_speed(pulls).slope:.1f}")
    20.0

    References:
        JCGM 100:2008 (GUM), H.3 (least-squares line), from memory.
    """
    up = [pull for pull in pulls if pull.direction == "raising" and pull.speed is not None]
    heaviest = max((pull.load for pull in up), default=0.0)
    up = [pull for pull in up if pull.load == heaviest and math.isfinite(pull.pull.mean)]
    speed = np.asarray([pull.speed for pull in up], dtype=np.float64)
    if np.unique(speed).size < LEAST_SPEEDS:
        return None
    force = np.asarray([pull.pull.mean for pull in up])
    away = speed - speed.mean()
    slope = float(away @ force / (away @ away))
    rest = force - force.mean() - slope * away
    dof = len(up) - 2
    u = math.sqrt(float(rest @ rest) / dof / float(away @ away))
    return SpeedSlope(slope=slope, u=u, dof=float(dof), why=_why(slope, u, float(dof)))


def _why(slope: float, u: float, dof: float) -> str:
    expanded = float(coverage_factor(TWO_SIGMA, np.asarray(dof))) * u
    told = f"{slope:.0f} ± {expanded:.0f} N for each m/s"
    if slope > expanded and slope > 0:
        return f"the pull grows with the speed, {told}: grease stiff, or too much of it"
    return f"the pull does not depend on the speed beyond its uncertainty, {told}"
