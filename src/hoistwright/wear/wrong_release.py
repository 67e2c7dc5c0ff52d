"""How often a part beyond its limit is called fit, by decision rule, and what care costs."""

from __future__ import annotations

import math
from collections.abc import Callable

import attrs
import numpy as np
from numpy.typing import NDArray

from hoistwright.metrology import (
    DecisionRule,
    Outcome,
    decide,
    guarded,
    maximum_probability,
    simple,
)
from hoistwright.metrology.arrays import Floats
from hoistwright.wear.due import time_until
from hoistwright.wear.fitting import fit
from hoistwright.wear.simulate import History, simulate
from hoistwright.wear.simulated_series import chain_visits
from hoistwright.wear.simulated_shop import SimulatedVisits
from hoistwright.wear.state import states
from hoistwright.wear.visits import Visits

Bools = NDArray[np.bool_]

LIMIT = 0.025
"""Elongation limit of the simulated chains. Only how near they are to it matters."""
NEAR = (0.7, 1.3)
"""Examinations whose true value is this near the limit, as shares of it."""
_LEARN = 2000
_BLOCK = 50_000
_WORTHWHILE = 0.1

RULES = (
    ("simple acceptance", simple()),
    ("maximum probability 5 %", maximum_probability(0.05)),
    ("guarded, 1.645 u", guarded(1.645)),
    ("guarded, 2 u", guarded(2.0)),
)


@attrs.frozen(kw_only=True)
class RuleFigures:
    """One row of the table; shares, with the standard error that the number of cases gives.

    wrong_release: of parts truly beyond the limit, called fit. beyond_among_fit: of parts
    called fit, truly beyond. beyond_by_return: of parts called fit, truly beyond by the day
    the hoist is called back. The price: sound_renewed, of parts truly below the limit, not
    called fit; mean_interval, until the hoist is called back, as a share of the full interval.
    """

    rule: str
    forecast: bool
    examinations: int
    truly_beyond: int
    called_fit: int
    wrong_release: float
    wrong_release_u: float
    beyond_among_fit: float
    beyond_by_return: float
    beyond_by_return_u: float
    sound_renewed: float
    mean_interval: float


@attrs.frozen(kw_only=True)
class WrongRelease:
    """The table, and what it was made from."""

    rows: tuple[RuleFigures, ...]
    examinations: int
    limit: float
    near: tuple[float, float]
    uncertainty: float
    risk: float
    seed: int


@attrs.frozen(eq=False)
class _Cases:
    """One examination each: reading, truth now and at the next visit, forecast."""

    reading: Floats
    truth: Floats
    rise: Floats
    """True wear per year until the visit after."""
    lasts: Floats
    """Years until the probability of being beyond the limit reaches the risk."""


def wrong_release(
    examinations: int = 200_000,
    *,
    seed: int = 20_26,
    risk: float = 0.05,
    visits: SimulatedVisits | None = None,
    rules: tuple[tuple[str, DecisionRule], ...] = RULES,
    watch: Callable[[int, int], None] | None = None,
) -> WrongRelease:
    """Simulate chain examinations near the limit and count what each rule lets through.

    Every hoist is examined once, at its first visit with a true elongation within `NEAR` of
    the limit. "With forecast" calls the hoist back when the probability of being beyond the
    limit, from its readings so far and a fleet fitted on other hoists, reaches `risk`, if that
    is sooner than the full interval; what would not last a tenth of the interval is not called
    fit. Without, it is called back after the full interval. Borderline counts as not fit.

    Args:
        examinations: at least so many cases.
        seed: of the random numbers; the same seed gives the same table.
        risk: greatest allowed probability with forecast.
        visits: when hoists come and how well they are measured.
        rules: names and decision rules.
        watch: told now and then how many are done, of how many.

    Returns:
        Two rows for each rule, without and with forecast.

    Raises:
        ValueError: fewer than one examination.

    References:
        specific and global risks: JCGM 106:2012, 9, from memory; simulation of the project.

    >>> small = wrong_release(2000, seed=1)
    >>> plain = [row for row in small.rows if not row.forecast]
    >>> plain[0].wrong_release > plain[-1].wrong_release
    True
    """
    if examinations < 1:
        raise ValueError(f"{examinations} examinations; expected at least one.")
    plan = visits or SimulatedVisits()
    rng = np.random.default_rng(seed)
    learnt = fit(chain_visits(simulate(_LEARN, rng, visits=plan)))
    found: list[_Cases] = []
    while sum(case.reading.size for case in found) < examinations:
        history = simulate(min(_BLOCK, 2 * examinations), rng, visits=plan)
        at, hoists = _examined(history)
        known = _until(chain_visits(history), at)
        now = states(_columns(known, hoists), learnt)
        lasts = time_until(now, LIMIT, risk, longest=2 * plan.gap, relative=1e-3)
        found.append(_cases(history, at, hoists, lasts))
        if watch is not None:
            watch(min(sum(case.reading.size for case in found), examinations), examinations)
    cases = _Cases(*(np.concatenate([getattr(c, name) for c in found]) for name in (
        "reading", "truth", "rise", "lasts")))  # fmt: skip
    u = history.elongation_u
    rows = tuple(
        _figures(name, rule, cases, u, plan.gap, ahead=ahead)
        for name, rule in rules
        for ahead in (False, True)
    )
    return WrongRelease(
        rows=rows,
        examinations=cases.reading.size,
        limit=LIMIT,
        near=NEAR,
        uncertainty=u,
        risk=risk,
        seed=seed,
    )


def _examined(history: History) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """The visit at which each hoist is examined, and the hoists that have one."""
    share = history.elongation / LIMIT
    near = (share >= NEAR[0]) & (share <= NEAR[1]) & np.isfinite(history.read_elongation)
    near[-1] = False  # the visit after must be known
    at = np.argmax(near, axis=0)
    return at, np.flatnonzero(near.any(axis=0))


def _until(visits: Visits, at: NDArray[np.intp]) -> Visits:
    """Visits with all after slot `at` taken away: no time passes, nothing is read."""
    after = np.arange(visits.gap.shape[0])[:, None] > at
    return attrs.evolve(
        visits, gap=np.where(after, 0.0, visits.gap), value=np.where(after, np.nan, visits.value)
    )


def _columns(visits: Visits, hoists: NDArray[np.intp]) -> Visits:
    names = ("gap", "value", "u", "fresh", "start", "start_u")
    cut = {name: getattr(visits, name)[:, hoists] for name in names}
    return Visits(leaf=visits.leaf[hoists], tree=visits.tree, **cut)


def _cases(
    history: History, at: NDArray[np.intp], hoists: NDArray[np.intp], lasts: Floats
) -> _Cases:
    k = at[hoists]
    truth, later = history.elongation[k, hoists], history.elongation[k + 1, hoists]
    gap = history.time[k + 1, hoists] - history.time[k, hoists]
    return _Cases(history.read_elongation[k, hoists], truth, (later - truth) / gap, lasts)


def _figures(
    name: str, rule: DecisionRule, cases: _Cases, u: float, interval: float, *, ahead: bool
) -> RuleFigures:
    fit_now: Bools = decide(cases.reading, u, LIMIT, rule=rule).codes == Outcome.FIT
    until = np.minimum(cases.lasts, interval) if ahead else np.full(cases.truth.size, interval)
    fit_now &= until >= _WORTHWHILE * interval
    beyond = cases.truth >= LIMIT
    by_return = cases.truth + cases.rise * until >= LIMIT
    wrong, late = _share(fit_now, beyond), _share(by_return, fit_now)
    return RuleFigures(
        rule=name,
        forecast=ahead,
        examinations=cases.truth.size,
        truly_beyond=int(beyond.sum()),
        called_fit=int(fit_now.sum()),
        wrong_release=wrong,
        wrong_release_u=_error(wrong, int(beyond.sum())),
        beyond_among_fit=_share(beyond, fit_now),
        beyond_by_return=late,
        beyond_by_return_u=_error(late, int(fit_now.sum())),
        sound_renewed=_share(~fit_now, ~beyond),
        mean_interval=float(until[fit_now].mean() / interval) if fit_now.any() else 0.0,
    )


def _error(share: float, cases: int) -> float:
    """Standard error of a share."""
    return math.sqrt(max(share * (1 - share), 0.0) / max(cases, 1))


def _share(what: Bools, among: Bools) -> float:
    return float(what[among].mean()) if among.any() else 0.0
