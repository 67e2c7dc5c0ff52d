"""First passage: the probability that wear reaches its limit before a given time."""

from __future__ import annotations

import functools
import math

import numpy as np

from hoistwright.metrology.arrays import FloatLike, Floats, as_floats, for_blocks
from hoistwright.wear.state import State

NODES = 48
_STATE_REACH = 6.5
_PATH_REACH = 7.5


def known_distance(
    distance: FloatLike, drift: FloatLike, drift_u: FloatLike, wander: FloatLike, time: FloatLike
) -> Floats:
    """Probability of reaching a limit at a known distance, with uncertain drift.

    With V = s²T² + σ²T:
    P = Φ((mT − d)/√V) + exp(2md/σ² + 2s²d²/σ⁴)·Φ(−(mT + d + 2s²dT/σ²)/√V), the inverse Gaussian
    law averaged over ν ~ N(m, s²). Worked so that nothing overflows.

    Args:
        distance: d from true wear to limit, above 0; at or below 0 gives 1.
        drift: mean rate m.
        drift_u: its standard deviation s.
        wander: σ, of Brownian wander.
        time: T, from 0.

    Returns:
        Probability, broadcast shape.

    References:
        Schrödinger 1915 (first passage of Brownian motion with drift); Whitmore 1986, Peng &
        Tseng 2009 (random drift); from memory, averaged again here.

    >>> float(known_distance(1.0, 0.0, 0.0, 1.0, 1.0).round(4))  # 2 Φ(−1)
    0.3173
    """
    from scipy.special import erfcx, log_ndtr, ndtr

    d, m, s, sigma, T = (as_floats(part) for part in (distance, drift, drift_u, wander, time))
    s2, q = s * s, sigma * sigma
    V = np.maximum(T * (s2 * T + q), 1e-300)
    root = np.sqrt(V)
    z = (m * T - d) / root
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        pull = np.where(q > 0, d / np.where(q > 0, q, 1.0), np.inf)
        b = (m * T + d + 2 * s2 * T * pull) / root
        b = np.where(np.isnan(b), np.inf, b)
        back = np.exp(-z * z / 2) * erfcx(np.maximum(b, 0.0) / math.sqrt(2)) / 2
        low = b < 0
        if low.any():
            other = np.exp(np.minimum(2 * pull * (m + s2 * pull), 700.0) + log_ndtr(-b))
            back = np.where(low, other, back)
    return as_floats(np.where(d <= 0, 1.0, np.clip(ndtr(z) + back, 0.0, 1.0)))


def beyond_by(state: State, limit: FloatLike, time: FloatLike, *, nodes: int = NODES) -> Floats:
    """Probability that the true wear is beyond the limit now or reaches it within `time`.

    ∫ P(reach | d, ν given d)·N(d) dd over the distance d = L − x, by Gauss–Legendre between
    where the outcome is certain and where it is impossible; Φ for the certain rest.

    Args:
        state: of the hoists, any shape.
        limit: L, same unit as the wear, broadcast.
        time: from now, from 0, broadcast.
        nodes: of the quadrature. 48 keep the error below 1e-6; below 1e-4 where wander is so small
            against the doubt of the rate that passage turns from sure to never within a hair. A
            figure below 1e-10 is not exact: tails beyond 6.5 deviations are left out.

    Returns:
        Probability, broadcast shape. Nothing is renewed in between.

    Raises:
        ValueError: a negative time.

    References:
        as `known_distance`; checked against Monte Carlo and a general library.

    >>> from hoistwright.wear.state import known_state
    >>> one = known_state(0.6, 0.1, 0.01, 0.02, wander=0.05)
    >>> float(beyond_by(one, 1.0, 2.0).round(4))
    0.0092
    """
    T = as_floats(time)
    if (T < 0).any():
        raise ValueError(f"a time is {T.min():g}; expected 0 or more, from the last visit on.")
    parts = np.broadcast_arrays(
        as_floats(limit) - state.x, state.v, state.pxx, -state.pxv, state.pvv, T
    )
    shape = parts[0].shape
    rows = [as_floats(part).reshape(-1) for part in parts]
    result = np.empty(rows[0].size)

    def work(block: slice) -> None:
        for piece in _pieces(block):
            d, v, pdd, pdv, pvv, T = (row[piece] for row in rows)
            result[piece] = _beyond(d, v, pdd, pdv, pvv, T, state.wander, nodes)

    for_blocks(result.size, work)
    return result.reshape(shape)


def _pieces(block: slice, size: int = 2048) -> list[slice]:
    """Cuts that keep rows × nodes in the processor's cache."""
    return [slice(a, min(a + size, block.stop)) for a in range(block.start, block.stop, size)]


@functools.cache
def _legendre(nodes: int) -> tuple[Floats, Floats]:
    x, w = np.polynomial.legendre.leggauss(nodes)
    return (x + 1) / 2, w / 2


def _beyond(
    d: Floats, v: Floats, pdd: Floats, pdv: Floats, pvv: Floats, T: Floats, wander: float, n: int
) -> Floats:
    """One block of flat rows. Distance d ~ N(d, pdd), covariance pdv with the rate."""
    from scipy.special import ndtr

    tiny = 1e-24 * (d * d + (v * T) ** 2 + pvv * T * T + wander**2 * T) + 1e-290
    pdd = np.maximum(pdd, tiny)
    sd = np.sqrt(pdd)
    lean = pdv / pdd
    s = np.sqrt(np.maximum(pvv - pdv * lean, 0.0))
    low, high = _panel(d, v, sd, lean, s, T, wander)
    x, w = _legendre(n)
    width = high - low
    at = low[:, None] + width[:, None] * x
    z = (at - d[:, None]) / sd[:, None]
    reach = known_distance(
        at, v[:, None] + lean[:, None] * (at - d[:, None]), s[:, None], wander, T[:, None]
    )
    inside = (np.exp(-z * z / 2) * reach) @ w * width / (sd * math.sqrt(2 * math.pi))
    return as_floats(np.clip(ndtr((low - d) / sd) + inside, 0.0, 1.0))


def _panel(
    d: Floats, v: Floats, sd: Floats, lean: Floats, s: Floats, T: Floats, wander: float
) -> tuple[Floats, Floats]:
    """Distances between which passage is neither certain nor impossible."""
    low, high = np.maximum(d - _STATE_REACH * sd, 0.0), d + _STATE_REACH * sd
    high = np.maximum(high, low)
    slope = 1 - lean * T  # the outcome turns where d = (drift given d) T
    steep = slope > 0.05
    safe = np.where(steep, slope, 1.0)
    turn = (v - lean * d) * T / safe
    reach = _PATH_REACH * np.sqrt(s * s * T * T + wander**2 * T) / safe
    from_turn = np.where(steep, np.clip(turn - reach, low, high), low)
    to_turn = np.where(steep, np.clip(np.maximum(turn, 0.0) + reach, from_turn, high), high)
    return from_turn, to_turn
