"""Fit the hyperparameters to a fleet by marginal likelihood."""

from __future__ import annotations

import math
from typing import Literal

import attrs
import numpy as np

from hoistwright.metrology.arrays import Floats
from hoistwright.wear.backward import Backward
from hoistwright.wear.doubt import curvature, points_around
from hoistwright.wear.likelihood import Point, likelihood, slopes
from hoistwright.wear.means import Means
from hoistwright.wear.rough import Rough, rough
from hoistwright.wear.spread import Spread
from hoistwright.wear.visits import Visits

Tails = Literal["normal", "heavy"]

SHARE = 0.5
"""Where few hoists or groups say little: rates differ by about half the mean rate (assumed)."""
WANDER_SHARE = 0.3
"""Likewise, wander over one usual gap is about this share of the wear in it (assumed)."""
HEAVY_DOF = 4.0
LARGE = 1000
"""From so many hoists on the doubt about the hyperparameters themselves no longer tells."""
_REACH = 12.0
_SETTLED = 1e-2


@attrs.frozen(kw_only=True)
class Options:
    """What is fitted and how.

    tails: "heavy" gives reading errors Student's t with `dof` degrees of freedom.
    noise: "as stated" keeps the stated uncertainties, "fitted" scales them all by one factor.
    wander: False leaves Brownian wander out.
    restricted: restricted likelihood (means integrated out) rather than maximum likelihood.
    guarded: the mild assumptions SHARE and WANDER_SHARE, which matter only for small fleets
    and keep a variance from being called zero; and the doubt about the hyperparameters of a
    fleet below LARGE carried into every state.
    """

    tails: Tails = "normal"
    dof: float = HEAVY_DOF
    noise: Literal["as stated", "fitted"] = "as stated"
    wander: bool = True
    restricted: bool = True
    guarded: bool = True


@attrs.frozen(eq=False, kw_only=True)
class Fit:
    """A fitted fleet: hyperparameters, the group means, and how each reading fits the others."""

    spread: Spread
    point: Point
    back: Backward
    weights: Floats | None
    options: Options
    rough: Rough
    converged: bool
    evaluations: int
    around: tuple[tuple[Spread, Means], ...] = ()
    """Other hyperparameters that the readings bear out too, of equal weight."""

    @property
    def log_likelihood(self) -> float:
        return self.point.log_likelihood

    @property
    def mean_rate(self) -> float:
        """Of the whole fleet."""
        return float(self.point.means.effect[0])


def fit(visits: Visits, options: Options | None = None) -> Fit:
    """Hyperparameters of the fleet, with the group means.

    maximise ℓ(σ, σ_B, s0, ρ, φ, τ) (+ Σ log s − s²/(2A²) for each s of σ, σ_B, τ where
    guarded: a Rayleigh density with its mode at the assumed A), by its exact slopes.

    Args:
        visits: padded readings of the fleet.
        options: what is fitted; the defaults where None.

    Returns:
        The fit.

    Range: any number of hoists and visits from one reading on; what is too few for a figure
    is told by `checking.trust`.

    Raises:
        ValueError: readings that say nothing about the mean rate or start.

    References:
        Laird & Ware 1982 (random coefficients); Whitmore 1995 (wear as Brownian motion read
        with error); Chung et al. 2013 (densities that keep a variance from zero); Lange, Little
        & Taylor 1989 (t errors by weights); L-BFGS-B: Byrd et al. 1995; from memory.

    >>> from hoistwright.wear.visits import regular_visits
    >>> rng = np.random.default_rng(3)
    >>> true = rng.normal(1.0, 0.2, (400, 1)) * [1.0, 2.0, 3.0]
    >>> found = fit(regular_visits([1.0, 2.0, 3.0], true + rng.normal(0, 0.1, (400, 3)), 0.1))
    >>> abs(found.mean_rate - 1) < 0.03, abs(found.spread.rate - 0.2) < 0.03
    (True, True)
    """
    chosen = Options() if options is None else options
    start = rough(visits)
    search = _Search(visits, chosen, start)
    if chosen.tails == "normal":
        return search.run(None, search.first())
    return _heavy(search)


class _Search:
    """One fit in logarithms of standard deviations (ρ by its inverse hyperbolic tangent)."""

    def __init__(self, visits: Visits, options: Options, start: Rough) -> None:
        self.visits, self.options, self.rough = visits, options, start
        self.names = ["rate"]
        self.names += ["wander"] if options.wander else []
        self.names += ["start", "start_rate"] if visits.free_start else []
        self.names += ["noise"] if options.noise == "fitted" else []
        self.depth = visits.tree.depth
        self.names += [f"level {k}" for k in range(1, self.depth + 1)]
        self.evaluations = 0
        self.middle = self.first()
        self.reach = np.array([4.0 if n == "start_rate" else _REACH for n in self.names])

    def first(self) -> Floats:
        values = {
            "rate": math.log(self.rough.rate_spread),
            "wander": math.log(WANDER_SHARE * self.rough.rate * math.sqrt(self.rough.gap)),
            "start": math.log(self.rough.start_spread),
            "start_rate": 0.0,
            "noise": self.rough.log_noise if self.options.noise == "fitted" else 0.0,
        }
        level = math.log(SHARE * self.rough.rate)
        return np.array([values.get(name, level) for name in self.names])

    def spread(self, theta: Floats) -> Spread:
        near = np.clip(theta, self.middle - self.reach, self.middle + self.reach)
        at = dict(zip(self.names, near.tolist(), strict=True))
        return Spread(
            rate=math.exp(at["rate"]),
            wander=math.exp(at["wander"]) if self.options.wander else 0.0,
            start=math.exp(at.get("start", 0.0)),
            start_rate=math.tanh(at.get("start_rate", 0.0)),
            noise=math.exp(at.get("noise", 0.0)),
            levels=tuple(math.exp(at[f"level {k}"]) for k in range(1, self.depth + 1)),
        )

    def cost(self, theta: Floats, weights: Floats | None) -> tuple[float, Floats]:
        """−ℓ and its slopes."""
        self.evaluations += 1
        spread = self.spread(theta)
        restricted = self.options.restricted
        point = likelihood(self.visits, spread, weights, reml=restricted)
        by, _ = slopes(self.visits, spread, point, weights, fits=False)
        by["start_rate"] *= 1 - spread.start_rate**2
        value = -point.log_likelihood
        inside = np.abs(theta - self.middle) <= self.reach
        slope = -np.array([by[name] for name in self.names]) * inside
        if self.options.guarded:
            more, its = self._guard(theta)
            value, slope = value + more, slope + its
        return value, slope

    def _guard(self, theta: Floats) -> tuple[float, Floats]:
        """−log of the Rayleigh densities of σ, σ_B, τ and of 1 − ρ², and its slopes."""
        value, slope = 0.0, np.zeros(theta.size)
        for at, name in enumerate(self.names):
            if name == "start_rate":
                value += 2 * math.log(math.cosh(theta[at]))
                slope[at] += 2 * math.tanh(theta[at])
            if name in ("start", "start_rate", "noise"):
                continue
            mode = SHARE * self.rough.rate
            if name == "wander":
                mode = WANDER_SHARE * self.rough.rate * math.sqrt(self.rough.gap)
            ratio = math.exp(2 * theta[at]) / mode**2
            value += ratio / 2 - theta[at]
            slope[at] += ratio - 1
        return value, slope

    def run(self, weights: Floats | None, first: Floats) -> Fit:
        from scipy.optimize import minimize

        found = minimize(
            self.cost,
            first,
            args=(weights,),
            jac=True,
            method="BFGS",  # no matrix library inside: quick in few dimensions
            # the curvature grows with the fleet
            options={"gtol": 1e-5 + 1e-6 * self.visits.leaf.size},
        )
        # a flat way to a variance of nothing ends in "precision loss": settled all the same
        settled = bool(found.success) or float(np.abs(found.jac).max()) < _SETTLED
        return self.finish(np.asarray(found.x), weights, converged=settled)

    def finish(self, theta: Floats, weights: Floats | None, *, converged: bool) -> Fit:
        spread = self.spread(theta)
        point = likelihood(self.visits, spread, weights, reml=self.options.restricted)
        _, back = slopes(self.visits, spread, point, weights)
        wide = self.options.guarded and self.visits.leaf.size < LARGE
        return Fit(
            around=self.around(theta, weights) if wide else (),
            spread=spread,
            point=point,
            back=back,
            weights=weights,
            options=self.options,
            rough=self.rough,
            converged=converged,
            evaluations=self.evaluations,
        )

    def around(self, theta: Floats, weights: Floats | None) -> tuple[tuple[Spread, Means], ...]:
        second = curvature(lambda at: self.cost(at, weights)[1], theta)
        found = []
        for at in points_around(theta, second):
            spread = self.spread(at)
            point = likelihood(self.visits, spread, weights, reml=self.options.restricted)
            found.append((spread, point.means))
        return tuple(found)

    def theta(self, spread: Spread) -> Floats:
        """The search's own coordinates of a spread."""
        values: dict[str, float] = {
            "rate": spread.rate, "wander": spread.wander, "start": spread.start,
            "noise": spread.noise,
        }  # fmt: skip
        values |= {f"level {k}": tau for k, tau in enumerate(spread.levels, start=1)}
        limit = math.tanh(4.0)
        rho = math.atanh(min(max(spread.start_rate, -limit), limit))
        return np.array([rho if n == "start_rate" else math.log(values[n]) for n in self.names])


def _heavy(search: _Search, rounds: int = 60, tolerance: float = 1e-4) -> Fit:
    """Student errors: weights from the fit, fit from the weights, until they agree.

    w = (dof + 1) / (dof + E[e²]/u²)
    """
    dof = search.options.dof
    found = search.run(None, search.first())
    for _ in range(rounds):
        square = np.where(search.visits.read, found.back.noise_square, 1.0)
        weights = (dof + 1) / (dof + square)
        before = found.weights
        found = search.run(weights, search.theta(found.spread))
        if before is not None and float(np.abs(weights - before).max()) < tolerance:
            return found
    return attrs.evolve(found, converged=False)
