"""The forecast of one hoist's feature as one value that explains itself."""

from __future__ import annotations

from collections.abc import Sequence

import attrs
import numpy as np

from hoistwright.metrology.arrays import FloatLike, Floats, as_floats
from hoistwright.wear.checking import ModelCheck, Suspect, hoist_doubts, model_check
from hoistwright.wear.due import time_until
from hoistwright.wear.fitting import Fit, Options, fit
from hoistwright.wear.passage import beyond_by
from hoistwright.wear.series import Series
from hoistwright.wear.state import State, states
from hoistwright.wear.visits import Visits, stack


@attrs.frozen(eq=False, kw_only=True)
class Band:
    """For a plot: mean of the true wear and the bounds of its interval at `times` from the last
    slot of the series on.
    """

    times: Floats
    mean: Floats
    low: Floats
    high: Floats
    coverage: float


@attrs.frozen(eq=False, kw_only=True)
class Prognosis:
    """What is to be expected of one feature. Times run on from `series.last_time`.

    beyond_now, beyond_by_horizon: probability of being beyond the limit; time_to_risk: until
    it reaches `risk` (infinity: not within the time looked at).
    """

    series: Series
    state: State
    limit: float
    horizon: float
    beyond_now: float
    beyond_by_horizon: float
    risk: float
    time_to_risk: float
    suspects: tuple[Suspect, ...]
    doubts: tuple[str, ...]

    @property
    def lasts(self) -> bool:
        """True where the risk stays below what is allowed until the horizon."""
        return self.time_to_risk > self.horizon

    def band(self, times: FloatLike, coverage: float = 0.9) -> Band:
        """The interval of the true wear at times from now on, if nothing is renewed."""
        from scipy.special import ndtri

        t = as_floats(times)
        mean, sd = self.state.after(t)
        half = float(ndtri((1 + coverage) / 2)) * sd
        return Band(times=t, mean=mean, low=mean - half, high=mean + half, coverage=coverage)


@attrs.frozen(eq=False, kw_only=True)
class FleetForecast:
    """A fitted fleet with a prognosis for each series, and the check of the model."""

    visits: Visits
    fit: Fit
    check: ModelCheck
    prognoses: tuple[Prognosis, ...]


def forecast(
    many: Sequence[Series],
    limits: FloatLike,
    *,
    horizon: FloatLike,
    risk: float = 0.05,
    longest: float | None = None,
    options: Options | None = None,
) -> FleetForecast:
    """Fit a fleet and say what is to be expected of each of its hoists.

    Args:
        many: series of one kind of feature, in one unit, wear rising (`toward_limit`).
        limits: the limit of each, or one for all.
        horizon: time until the next visit, for each or for all.
        risk: greatest allowed probability of being beyond the limit.
        longest: how far ahead to look for the wear date; 20 horizons where None.
        options: what is fitted.

    Returns:
        The fit, its check, and the prognoses in the order of the series.

    Raises:
        ValueError: faulty series, all at once; readings that say nothing about the mean rate.

    References:
        as `fitting.fit`, `state.states`, `passage.beyond_by`, `due.time_until`.

    >>> from hoistwright.wear.series import Start, WearReading
    >>> many = [Series(hoist=f"A {n}", starts=(Start(time=0),), readings=tuple(
    ...             WearReading(time=t, value=(0.1 + 0.01 * n) * t, uncertainty=0.02)
    ...             for t in (1, 2, 3))) for n in range(10)]
    >>> found = forecast(many, 1.0, horizon=2.5)
    >>> [p.series.hoist for p in found.prognoses if not p.lasts]
    ['A 8', 'A 9']
    """
    visits = stack(many)
    found = fit(visits, options)
    check = model_check(visits, found)
    far = 20 * float(np.max(as_floats(horizon))) if longest is None else longest
    prognoses = foretell(
        many, limits, visits=visits, found=found, horizon=horizon, risk=risk, longest=far,
        widest=widest_gap(visits), suspects=check.suspects, weights=found.weights,
    )  # fmt: skip
    return FleetForecast(visits=visits, fit=found, check=check, prognoses=prognoses)


def widest_gap(visits: Visits) -> float:
    """The longest time from one reading to the next that a fleet was fitted on."""
    gaps = visits.gap[visits.read]
    return float(gaps.max()) if gaps.size else 0.0


def foretell(
    many: Sequence[Series],
    limits: FloatLike,
    *,
    visits: Visits,
    found: Fit,
    horizon: FloatLike,
    risk: float,
    longest: float,
    widest: float,
    suspects: Sequence[Suspect] = (),
    weights: Floats | None = None,
) -> tuple[Prognosis, ...]:
    """What is to be expected of hoists by a fit that is there already, theirs or an earlier one.

    Args:
        many: the series, of groups that the fit knows.
        limits: as `forecast`.
        visits: the same series as padded arrays, over the fit's tree of groups.
        found: the fit.
        horizon: as `forecast`.
        risk: as `forecast`.
        longest: as `forecast`.
        widest: the longest gap that the fit rests on, for the doubts.
        suspects: readings that do not fit, by column of `visits`.
        weights: of a heavy-tailed fit, where `visits` are those fitted.

    Returns:
        The prognoses in the order of the series.

    References:
        as `forecast`.
    """
    state = states(visits, found, weights)
    L = np.broadcast_to(as_floats(limits), state.x.shape)
    T = np.broadcast_to(as_floats(horizon), state.x.shape)
    now, then = beyond_by(state, L, 0.0), beyond_by(state, L, T)
    until = time_until(state, L, risk, longest=longest)
    return tuple(
        Prognosis(
            series=series,
            state=state.one(at),
            limit=float(L[at]),
            horizon=float(T[at]),
            beyond_now=float(now[at]),
            beyond_by_horizon=float(then[at]),
            risk=risk,
            time_to_risk=float(until[at]),
            suspects=tuple(s for s in suspects if s.column == at),
            doubts=hoist_doubts(series, state.one(at), longest=widest),
        )
        for at, series in enumerate(many)
    )
