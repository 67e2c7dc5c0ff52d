"""When the probability of being beyond the limit reaches what is allowed."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from hoistwright.metrology.arrays import FloatLike, Floats, as_floats
from hoistwright.wear.passage import beyond_by
from hoistwright.wear.state import State

Rows = NDArray[np.intp]

_QUICK = 24
_ROUNDS = 60
_STEP = 0.03
_SHORT = 2e-5
"""Share of the longest time below which times are not told apart (8 hours in 50 years)."""


def time_until(
    state: State,
    limit: FloatLike,
    probability: float,
    *,
    longest: float,
    relative: float = 1e-4,
) -> Floats:
    """Time from now until P(beyond the limit) reaches `probability`.

    Solves P(T) = p by secants in (log T, Φ⁻¹(P)), where the curve is nearly straight, inside a
    bracket that only shrinks.

    Args:
        state: of the hoists, arrays of one shape.
        limit: L, same unit as the wear, broadcast.
        probability: p, above 0, at most one half.
        longest: the longest time looked at, above 0, in the time unit of the fit.
        relative: accuracy asked, of Φ⁻¹(P) or of the time (2e-5 of `longest` at the finest).

    Returns:
        Times, shape of the state; 0 where it is reached already, infinity where not within
        `longest`.

    Raises:
        ValueError: a probability or a longest time outside its range.

    References:
        bracketed secant ("Illinois") in probit scale; own arrangement.

    >>> from hoistwright.wear.state import known_state
    >>> one = known_state(np.array([0.6]), 0.1, 0.01, 0.02, wander=0.05)
    >>> T = time_until(one, 1.0, 0.05, longest=40.0)
    >>> T.round(1).tolist(), beyond_by(one, 1.0, T).round(3).tolist()
    ([2.4], [0.05])
    """
    if not 0 < probability <= 0.5:
        raise ValueError(f"the probability is {probability}; expected above 0, at most 0.5.")
    if not 0 < longest < math.inf:
        raise ValueError(f"the longest time is {longest}; expected a finite time above 0.")
    shape = np.broadcast_shapes(state.x.shape, as_floats(limit).shape)
    L = np.broadcast_to(as_floats(limit), shape).reshape(-1)
    flat = _flat(state, shape)
    result = np.full(L.size, np.inf)
    now = beyond_by(flat, L, 0.0, nodes=_QUICK)
    late = beyond_by(flat, L, longest, nodes=_QUICK)
    result[now >= probability] = 0.0
    at = np.flatnonzero((now < probability) & (late >= probability))
    if at.size:
        search = _Search(_rows(flat, at), L[at], probability, longest)
        result[at] = search.run(relative)
    return result.reshape(shape)


class _Search:
    """Brackets in log time with the probit gap at both ends."""

    def __init__(self, state: State, limit: Floats, p: float, longest: float) -> None:
        from scipy.special import ndtri

        self.state, self.limit, self.target = state, limit, float(ndtri(p))
        self.high = np.full(limit.size, math.log(longest))
        self.low = self.high - 30.0
        self.g_low = np.full(limit.size, -np.inf)
        self.g_high = np.full(limit.size, np.inf)
        self.short = _SHORT * longest
        self.step = np.full(limit.size, _STEP)
        self.side = np.zeros(limit.size)
        self.at = np.clip(np.log(_first_guess(state, limit, self.target, longest)),
                          self.low, self.high)  # fmt: skip

    def gap(self, rows: Rows, log_time: Floats) -> Floats:
        from scipy.special import ndtri

        p = beyond_by(_rows(self.state, rows), self.limit[rows], np.exp(log_time), nodes=_QUICK)
        return as_floats(ndtri(np.clip(p, 1e-300, 1 - 1e-16)) - self.target)

    def run(self, relative: float) -> Floats:
        rows = np.arange(self.at.size)
        for _ in range(_ROUNDS):
            g = self.gap(rows, self.at[rows])
            self._shrink(rows, g)
            late, early = np.exp(self.high[rows]), np.exp(self.low[rows])
            wide = late - early > np.maximum(relative / 10 * late, self.short)
            rows = rows[(np.abs(g) > relative) & wide]
            if not rows.size:
                break
            self.at[rows] = self._next(rows)
        return as_floats(np.exp(self.at))

    def _shrink(self, rows: Rows, g: Floats) -> None:
        """Move one end in; halve the gap of the other when it stays a second time (Illinois)."""
        at = self.at[rows]
        sign = np.where(g >= 0, 1.0, -1.0)
        again = self.side[rows] == sign
        above, below = rows[sign > 0], rows[sign < 0]
        self.high[above], self.g_high[above] = at[sign > 0], g[sign > 0]
        self.low[below], self.g_low[below] = at[sign < 0], g[sign < 0]
        self.g_low[rows[again & (sign > 0)]] /= 2
        self.g_high[rows[again & (sign < 0)]] /= 2
        self.side[rows] = sign

    def _next(self, rows: Rows) -> Floats:
        """Secant where both ends are known, else a step beyond the known end."""
        low, high = self.low[rows], self.high[rows]
        g_low, g_high = self.g_low[rows], self.g_high[rows]
        both = np.isfinite(g_low) & np.isfinite(g_high)
        with np.errstate(invalid="ignore", divide="ignore"):
            share = np.where(both, -g_low / (g_high - g_low), 0.5)
        inside = low + np.clip(share, 0.005, 0.995) * (high - low)
        up = np.minimum(low + np.maximum(self.step[rows], 0.5 * -g_low), high)
        down = np.maximum(high - np.maximum(self.step[rows], 0.5 * g_high), low)
        self.step[rows] *= 2
        return as_floats(np.where(both, inside, np.where(np.isfinite(g_low), up, down)))


def _first_guess(state: State, limit: Floats, z: float, longest: float) -> Floats:
    """Where the true wear itself, not its first passage, has the probability: a quadratic."""
    d = limit - state.x
    a = state.v**2 - z * z * state.pvv
    b = -2 * d * state.v - z * z * (2 * state.pxv + state.wander**2)
    c = d * d - z * z * state.pxx
    root = np.sqrt(np.maximum(b * b - 4 * a * c, 0.0))
    with np.errstate(divide="ignore", invalid="ignore"):
        T = 2 * c / (-b + root)
    return as_floats(np.where(np.isfinite(T) & (T > 0), np.minimum(T, longest), longest / 4))


def _flat(state: State, shape: tuple[int, ...]) -> State:
    parts = (state.x, state.v, state.pxx, state.pxv, state.pvv)
    x, v, a, b, c = (np.broadcast_to(part, shape).reshape(-1) for part in parts)
    return State(x, v, a, b, c, state.wander)


def _rows(state: State, at: Rows) -> State:
    x, v, a, b, c = (p[at] for p in (state.x, state.v, state.pxx, state.pxv, state.pvv))
    return State(x, v, a, b, c, state.wander)
