"""What a pull over time shows: its steady mean, and its ripple at the turns of the parts."""

from __future__ import annotations

import math

import attrs
import numpy as np

from hoistwright.prove.machine import Machine
from hoistwright.prove.observables import Observed
from hoistwright.prove.record import Floats, PullSeries

LEAST_TURNS = 1.5
"""Turns of the slowest part that a series must cover to tell the orders apart."""
TRIM = 0.04
"""Part of the path left out at either end: starting and stopping are not steady."""


@attrs.frozen(eq=False, kw_only=True)
class SeriesFigures:
    """Mean pull and ripple amplitudes over the mean; `why_none` where there is no ripple."""

    mean: Observed
    ripple: dict[str, Observed]
    turns: float
    why_none: str = ""


def orders(machine: Machine) -> dict[str, float]:
    """How often each part's ripple comes in one turn of the drive shaft.

    shaft 1; layshaft z1/z2; sheave 1/i; pocket N/i; mesh z1

    Args:
        machine: the hoist.

    Returns:
        Events per turn of the drive shaft, by the name of the observable.

    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.prove.machine import machine_of
    >>> {name: round(order, 3) for name, order in orders(machine_of(shipped("ardle-500"))).items()}
    {'ripple_shaft': 1.0, 'ripple_layshaft': 0.353, 'ripple_sheave': 0.125, 'ripple_pocket': 0.623, 'ripple_mesh': 12.0}

    References:
        geometry of the train (`hoistwright.physics.gears`).
    """  # noqa: E501 (the answer is shown whole)
    z1, z2, _, _ = machine.teeth
    return {
        "ripple_shaft": 1.0,
        "ripple_layshaft": z1 / z2,
        "ripple_sheave": 1 / machine.ratio,
        "ripple_pocket": machine.pockets / machine.ratio,
        "ripple_mesh": float(z1),
    }


def series_figures(series: PullSeries, machine: Machine, hand_path: float) -> SeriesFigures:
    """Mean and ripple of a pull over the path of the hand.

    P(theta) = b_0 + b_1 theta + sum over orders of a_j cos(2 pi o_j theta) + b_j sin(...), by
    least squares; theta in turns of the drive shaft; amplitude sqrt(a_j² + b_j²) over b_0

    Args:
        series: pull over time; without a path the speed is taken as steady.
        machine: the hoist.
        hand_path: path of the hand over the series, m, where the series has none; 0: unknown.

    Returns:
        Mean pull (N) with its standard uncertainty from the scatter, and the amplitudes with
        theirs. No ripple where the path is unknown or too short, or readings too far apart.

    Raises:
        ValueError: fewer than ten readings.

    References:
        harmonic regression by least squares; u of an amplitude s sqrt(2/n) (JCGM 100:2008,
        H.3 for the least-squares line), from memory.

    >>> import numpy as np
    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.prove.machine import machine_of
    >>> machine, time = machine_of(shipped("ardle-500")), np.linspace(0, 60, 4000)
    >>> path = 0.01 * time * 2 * np.pi * machine.hand_radius * 100
    >>> pull = 200 * (1 + 0.1 * np.sin(2 * np.pi * time))
    >>> found = series_figures(PullSeries(time=time, pull=pull, load=500, travel=path), machine, 0)
    >>> print(f"{found.ripple['ripple_shaft'].value:.3f}")
    0.100
    """
    if series.pull.size < 10:
        raise ValueError(f"pull series: given {series.pull.size} readings; expected 10 or more.")
    theta, pull, why = _steady(series, machine, hand_path)
    if why:
        mean, u = float(pull.mean()), float(pull.std(ddof=1)) / math.sqrt(pull.size)
        return SeriesFigures(mean=Observed(value=mean, u=u), ripple={}, turns=0.0, why_none=why)
    return _fitted(theta, pull, machine)


def _steady(series: PullSeries, machine: Machine, path: float) -> tuple[Floats, Floats, str]:
    """Turns of the drive shaft and pull of the steady part, and why there can be no ripple."""
    time = series.time - series.time[0]
    share = time / time[-1]
    hand = share * path if series.travel is None else series.travel - series.travel[0]
    theta = hand / (2 * math.pi * machine.hand_radius)
    whole = float(theta[-1])
    inner = (share >= TRIM) & (share <= 1 - TRIM)
    theta, pull = theta[inner], series.pull[inner]
    slowest = min(order for order in orders(machine).values())
    if whole <= 0:
        return theta, pull, "the path of the hand is not known"
    if whole * slowest < LEAST_TURNS:
        return (
            theta,
            pull,
            (
                f"the series covers {whole * slowest:.1f} turns of the load sheave; "
                f"expected {LEAST_TURNS:g} or more"
            ),
        )
    return theta, pull, ""


def _fitted(theta: Floats, pull: Floats, machine: Machine) -> SeriesFigures:
    resolved = {
        name: order
        for name, order in orders(machine).items()
        if order * (theta[-1] - theta[0]) * 2.5 <= theta.size
    }
    columns = [np.ones_like(theta), theta - theta.mean()]
    for order in _with_overtones(machine, resolved):
        columns += [np.cos(2 * np.pi * order * theta), np.sin(2 * np.pi * order * theta)]
    table = np.stack(columns, axis=1)
    fit = np.linalg.lstsq(table, pull, rcond=None)[0]
    rest = pull - table @ fit
    s = float(np.sqrt(np.sum(rest**2) / max(theta.size - fit.size, 1)))
    mean = float(fit[0])
    u = s * math.sqrt(2 / theta.size) / abs(mean)
    ripple = {
        name: Observed(value=float(np.hypot(*fit[2 + 2 * at : 4 + 2 * at])) / abs(mean), u=u)
        for at, name in enumerate(resolved)
    }
    at_mean = Observed(value=mean, u=s / math.sqrt(theta.size))
    return SeriesFigures(mean=at_mean, ripple=ripple, turns=float(theta[-1] - theta[0]))


def _with_overtones(machine: Machine, resolved: dict[str, float]) -> list[float]:
    """The orders, and the second of the pocket, which every polygon has."""
    own = list(resolved.values())
    second = 2 * machine.pockets / machine.ratio
    return [*own, second] if all(abs(second - order) > 1e-6 for order in own) else own
