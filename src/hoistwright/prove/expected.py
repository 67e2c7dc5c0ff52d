"""What a sound hoist of this design shows: the band that stands beside each figure."""

from __future__ import annotations

import math

import attrs
import numpy as np

from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.criteria import proof_criteria
from hoistwright.prove.fault_data import NONE
from hoistwright.prove.forward import Loads, predict
from hoistwright.prove.machine import Machine

DRAWS = 1024
LEAST_SHARE, MOST_SHARE = 2.5, 97.5
"""Percentiles of the sound hoists between which a figure is expected."""


@attrs.frozen(kw_only=True)
class Expected:
    """Least and greatest figure of a sound hoist, SI; `likely` is that of the design."""

    low: float
    high: float
    likely: float = math.nan

    def off(self, value: float, factor: float) -> bool:
        """Whether a figure is off by so much that it may have been typed in another unit."""
        return not self.low / factor <= value <= self.high * factor


def pull_up(machine: Machine, load: float) -> Expected:
    """Pull that raises a load, between the shares of the designed losses.

    P = W / (VR eta), eta = 1 - share (1 - eta_design)

    Args:
        machine: the hoist.
        load: on the hook, kg.

    Returns:
        N.

    Raises:
        ValueError: a load that is not above 0.

    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.prove.machine import machine_of
    >>> found = pull_up(machine_of(shipped("ardle-2000")), 2000)
    >>> [round(value) for value in (found.low, found.likely, found.high)]
    [335, 369, 427]

    References:
        as the finding of the efficiency (`criteria.toml`).
    """
    if not load > 0:
        raise ValueError(f"load: given {load} kg; expected above 0.")
    shares, loss = proof_criteria().efficiency_losses, 1 - machine.efficiency
    without = load * STANDARD_GRAVITY / machine.velocity_ratio
    return Expected(
        low=without / (1 - shares.low * loss),
        high=without / max(1 - shares.high * loss, 0.05),
        likely=machine.pull_up(load),
    )


def pull_down(machine: Machine, load: float) -> Expected:
    """Pull that lowers a load: most of the sound hoists that the diagnosis knows, N."""
    seen = predict(machine, NONE, Loads(load=load, light=0.1 * load), DRAWS)["pull_down"]
    return _between(seen * machine.pull_up(load))


def stop_drop(machine: Machine, load: float) -> Expected:
    """How far the load sinks until the brake holds, m."""
    return _between(predict(machine, NONE, Loads(load=load, light=0.1 * load), DRAWS)["stop_drop"])


def clicks(machine: Machine, lift: float) -> Expected:
    """Clicks of the pawls over a lift, m."""
    return _shared(machine.clicks_per_lift * lift)


def hand_path(machine: Machine, lift: float) -> Expected:
    """Path of the hand over a lift, both in m."""
    return _shared(machine.velocity_ratio * lift)


def strokes(machine: Machine, lift: float) -> Expected:
    """Strokes of the lever over a lift, m: shortest and longest stroke."""
    swing, turned = proof_criteria().lever_swing, 2 * math.pi * machine.turns_per_lift * lift
    return Expected(low=turned / float(swing.most), high=turned / float(swing.least))


def free_play(machine: Machine) -> Expected:
    """Free play of the hand wheel, m."""
    shares, new = proof_criteria().free_play_share, machine.free_play
    return Expected(low=shares.low * new, high=shares.high * new, likely=new)


def slip_load(machine: Machine) -> Expected | None:
    """Load at which the limiter slips, kg; None without one."""
    band = machine.limiter
    if band is None:
        return None
    return Expected(low=band.low * machine.rated, high=band.high * machine.rated)


def _shared(likely: float) -> Expected:
    shares = proof_criteria().turns_share
    return Expected(low=shares.low * likely, high=shares.high * likely, likely=likely)


def _between(figures: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> Expected:
    sound = figures[np.isfinite(figures)]
    low, likely, high = np.percentile(sound, [LEAST_SHARE, 50.0, MOST_SHARE])
    return Expected(low=float(low), high=float(high), likely=float(likely))
