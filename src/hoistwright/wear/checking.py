"""How well the model fits the fleet, which readings do not fit, and when not to trust it."""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs
import numpy as np

from hoistwright.metrology.arrays import Floats
from hoistwright.wear.fitting import Fit
from hoistwright.wear.series import Series
from hoistwright.wear.state import State
from hoistwright.wear.visits import Visits

SUSPECT = 3.5
"""Standardised residual from which a reading is pointed out: about 1 in 2000 by chance."""
FEW_HOISTS = 8
FEW_READINGS = 20
_Z90 = 1.6448536269514722


@attrs.frozen(kw_only=True)
class Suspect:
    """A reading that does not fit the hoist's others and the fleet. It is kept, not dropped."""

    column: int
    slot: int
    value: float
    expected: float
    z: float

    def sentence(self, unit: str = "") -> str:
        """What to do about it, in words."""
        tail = f" {unit}" if unit else ""
        return (
            f"Reading {self.value:.4g}{tail} does not fit the others: {self.expected:.4g}{tail} "
            f"was to be expected ({abs(self.z):.1f} standard deviations away). It is kept. "
            "Measure again; look for another place, another gauge, a renewal not entered, or "
            "an overload."
        )


@attrs.frozen(kw_only=True)
class ModelCheck:
    """The fitted model held against its own readings, each seen from all the others.

    coverage: share inside the 90 % interval, which should be near 0.9 (`coverage_u`: the
    scatter that chance alone gives it); pit: counts of the probability values in ten equal
    classes, flat for a good model; trend: correlation of residuals with wear already there,
    0 where wear runs straight.
    """

    readings: int
    hoists: int
    coverage: float
    coverage_u: float
    pit: tuple[int, ...]
    trend: float
    late_against_early: float
    suspects: tuple[Suspect, ...]
    trust: tuple[str, ...]
    """Reasons for doubt, as sentences; empty where there are none."""


def left_out_residuals(visits: Visits, found: Fit) -> Floats:
    """Standardised residual of each reading against all others, in stated uncertainties.

    z = (y − ŷ)/s; for heavy tails against the reading's own stated variance, not the one that its
    weight gave it.

    Args:
        visits: those fitted.
        found: the fit.

    Returns:
        (N, H), NaN where nothing was read.

    References:
        de Jong & Penzer 1998, from memory.
    """
    back = found.back
    variance = back.expected_sd**2
    if found.weights is not None:
        stated = (found.spread.noise * visits.u) ** 2
        variance = np.maximum(variance + stated - stated / found.weights, 1e-300)
    return np.asarray((visits.value - back.expected) / np.sqrt(variance))


def model_check(visits: Visits, found: Fit) -> ModelCheck:
    """Coverage, residual pattern, readings that do not fit, and reasons for doubt.

    Args:
        visits: those fitted.
        found: the fit.

    Returns:
        The check.

    References:
        probability integral transform: Dawid 1984; leave-one-out residuals: de Jong & Penzer
        1998; from memory.
    """
    from scipy.special import ndtr

    z = left_out_residuals(visits, found)
    at = np.isfinite(z)
    seen = z[at]
    pit = np.histogram(ndtr(seen), bins=10, range=(0, 1))[0]
    coverage = float((np.abs(seen) <= _Z90).mean()) if seen.size else math.nan
    trend = _correlation(seen, visits.value[at])
    late = _late_against_early(z)
    return ModelCheck(
        readings=int(seen.size),
        hoists=visits.leaf.size,
        coverage=coverage,
        coverage_u=math.sqrt(0.09 / max(seen.size, 1)),
        pit=tuple(int(count) for count in pit),
        trend=trend,
        late_against_early=late,
        suspects=_suspects(visits, found, z),
        trust=_doubts(visits, found, seen, coverage, late),
    )


def _correlation(a: Floats, b: Floats) -> float:
    if a.size < 3 or a.std() == 0 or b.std() == 0:
        return 0.0
    return float(np.corrcoef(a, b)[0, 1])


def _late_against_early(z: Floats) -> float:
    """Mean residual of each hoist's last reading less that of those between, in own scatter."""
    count = np.isfinite(z).sum(axis=0)
    wide = z[:, count >= 3]
    if wide.shape[1] < FEW_HOISTS:
        return 0.0
    last = np.array([column[np.isfinite(column)][-1] for column in wide.T])
    middle = np.array([column[np.isfinite(column)][1:-1].mean() for column in wide.T])
    gap = last - middle
    return float(gap.mean() / max(gap.std(ddof=1) / math.sqrt(gap.size), 1e-300))


def _suspects(visits: Visits, found: Fit, z: Floats) -> tuple[Suspect, ...]:
    with np.errstate(invalid="ignore"):
        places = np.argwhere(np.abs(z) >= SUSPECT)
    if not len(places):
        return ()
    hits = [
        Suspect(
            column=int(h),
            slot=int(k),
            value=float(visits.value[k, h]),
            expected=float(found.back.expected[k, h]),
            z=float(z[k, h]),
        )
        for k, h in places
    ]
    return tuple(sorted(hits, key=lambda hit: -abs(hit.z)))


def _doubts(
    visits: Visits, found: Fit, seen: Floats, coverage: float, late: float
) -> tuple[str, ...]:
    doubts = []
    twice = int((visits.read.sum(axis=0) >= 2).sum())
    if visits.leaf.size < FEW_HOISTS or seen.size < FEW_READINGS:
        doubts.append(
            f"Only {visits.leaf.size} hoists with {seen.size} readings: how much hoists differ "
            "is partly assumed, not found."
        )
    elif twice < FEW_HOISTS:
        doubts.append(
            f"Only {twice} hoists were read more than once: wander and the spread of rates "
            "cannot be told apart."
        )
    if found.point.means.effect[0] <= 0:
        doubts.append(
            "The mean wear rate is not above zero: the readings show no wear, or their sign, "
            "place or as-new value is wrong. Go by the interval of the basis."
        )
    if seen.size >= FEW_READINGS and abs(coverage - 0.9) > 3 * math.sqrt(0.09 / seen.size):
        side = "fewer" if coverage < 0.9 else "more"
        doubts.append(
            f"{100 * coverage:.0f} % of readings lie inside their 90 % interval, {side} than "
            "chance allows: the stated uncertainties or the model do not fit this fleet."
        )
    if abs(late) > 3:
        way = "faster" if late > 0 else "slower"
        doubts.append(
            f"Late readings show {way} wear than early ones: wear does not run straight here, "
            "and dates far ahead are " + ("too late." if late > 0 else "too early.")
        )
    if not found.converged:
        doubts.append("The fit did not settle; treat its figures as rough.")
    return tuple(doubts)


def hoist_doubts(series: Series, state: State, *, longest: float) -> tuple[str, ...]:
    """Reasons to doubt the forecast of one hoist, as sentences.

    Args:
        series: its readings.
        state: what is known of it, a single one.
        longest: the longest time since the last reading that the fleet's gaps bear out.
    """
    doubts = []
    read = [r for r in series.readings if not math.isnan(r.value)]
    count = sum(r.time > series.starts[-1].time for r in read)
    if count == 0:
        doubts.append("No reading since the part went in: the rate is the hoist's earlier "
                      "one, or its group's." if read else
                      "Never read: the rate is that of its group.")  # fmt: skip
    elif count == 1:
        doubts.append("One reading only: the rate leans on its group.")
    if float(state.v) <= 0:
        doubts.append("The rate comes out at or below zero: check as-new value and readings.")
    if series.starts[-1].value is None:
        doubts.append("How it began is not known: the start is taken from the fleet.")
    last = max((r.time for r in read), default=series.starts[-1].time)
    if series.last_time - last > longest:
        doubts.append("The last reading is older than any gap the fleet was fitted on.")
    return tuple(doubts)


def named(suspects: Sequence[Suspect], many: Sequence[Series]) -> tuple[tuple[str, Suspect], ...]:
    """Each suspect with the name of its hoist."""
    return tuple((many[suspect.column].hoist, suspect) for suspect in suspects)
