"""A test bed instead of weights: the load as a load cell or dynamometer reads it."""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence

import attrs

from hoistwright.metrology import Budget, Gauge, Outcome, reading_budget, state_on
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.quantity import Dimension


@attrs.frozen(kw_only=True)
class Applied:
    """The load that was on the hook, kg, however it was made.

    `low` and `high` bound the permitted band; the outcome says whether the load with its
    guard band lies within it.
    """

    outcome: Outcome
    load: float
    u: float
    guard: float
    low: float
    high: float
    why: str
    how: str
    budget: Budget | None = attrs.field(default=None, eq=False)

    @property
    def expanded(self) -> float:
        return 2 * self.u


def bed_load(
    readings: Sequence[float],
    gauge: Gauge,
    day: datetime.date,
    low: float,
    high: float,
    *,
    guard_factor: float = 2.0,
) -> Applied:
    """The load on a test bed from the readings of its gauge, and whether it serves.

    L = mean (of a force: mean / g_n); low + r u <= L <= high - r u

    Args:
        readings: steady readings, kg for a gauge of mass, N for a gauge of force.
        gauge: the load cell.
        day: the day of the test.
        low: least permitted load, kg.
        high: greatest permitted load, kg.
        guard_factor: r.

    Returns:
        The load with its budget. Not established: no reading, or a gauge that may not be used.

    Raises:
        ValueError: a gauge that reads neither mass nor force, or a band upside down.

    >>> import datetime
    >>> cell = Gauge("LC1", "load cell 1", "load cell", Dimension.FORCE, 10, 60,
    ...              calibrated_on=datetime.date(2026, 3, 1), due_on=datetime.date(2027, 2, 28))
    >>> bed_load([22080.0], cell, datetime.date(2026, 11, 25), 2000, 2500).why
    'load 2251.5 ± 6.1 kg, inside 2000 to 2500 kg by more than its guard band of 6.1 kg'

    References:
        JCGM 100:2008 (GUM), 4.2, 4.3; JCGM 106:2012, 8.3; from memory. The standard gravity
        stands for the local one (at most 0.3 % apart at sea level).
    """
    if gauge.measures not in (Dimension.MASS, Dimension.FORCE):
        raise ValueError(f"{gauge.name}: measures {gauge.measures.value}; expected mass or force.")
    if not 0 < low <= high:
        raise ValueError(f"permitted load: given {low:g} to {high:g} kg; expected 0 < low ≤ high.")
    value = sum(readings) / len(readings) if readings else math.nan
    state = state_on(gauge, day, reading=value)
    if not state.usable:
        return _not_known(low, high, state.reason, gauge)
    budget = reading_budget(gauge, repeats=readings)
    per = STANDARD_GRAVITY if gauge.measures is Dimension.FORCE else 1.0
    return applied(
        value / per, float(budget.u) / per, low, high, guard_factor=guard_factor,
        how=f"read on {gauge.name}", budget=budget,
    )  # fmt: skip


def applied(
    load: float,
    u: float,
    low: float,
    high: float,
    *,
    guard_factor: float = 2.0,
    how: str = "",
    budget: Budget | None = None,
) -> Applied:
    """Hold a load with its standard uncertainty against the permitted band. All in kg."""
    if not (math.isfinite(load) and math.isfinite(u)):
        return _not_known(low, high, "the load is not known", None)
    g = guard_factor * u
    told = f"load {load:.1f} ± {2 * u:.1f} kg"
    if low + g <= load <= high - g:
        outcome, why = Outcome.FIT, f"inside {low:g} to {high:g} kg by more than its guard band"
    elif low <= load <= high:
        outcome, why = Outcome.BORDERLINE, f"inside {low:g} to {high:g} kg, not by its guard band"
    else:
        outcome, why = Outcome.RENEW, f"outside {low:g} to {high:g} kg: prove again; guard band"
    return Applied(
        outcome=outcome, load=load, u=u, guard=g, low=low, high=high, how=how, budget=budget,
        why=f"{told}, {why} of {g:.1f} kg",
    )  # fmt: skip


def _not_known(low: float, high: float, why: str, gauge: Gauge | None) -> Applied:
    return Applied(
        outcome=Outcome.NOT_ESTABLISHED, load=math.nan, u=math.nan, guard=math.nan, low=low,
        high=high, why=why, how=f"read on {gauge.name}" if gauge else "",
    )  # fmt: skip
