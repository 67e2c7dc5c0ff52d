"""Which of the shop's marked weights to hang on, so that the load surely lies in its band."""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence
from fractions import Fraction

import attrs
import numpy as np
from numpy.typing import NDArray

from hoistwright.metrology import Outcome
from hoistwright.metrology.arrays import as_floats
from hoistwright.prove.weight_search import Floats, Kind, Labels, sums_within
from hoistwright.prove.weight_values import (
    Choice,
    Permitted,
    Place,
    Sharing,
    Tackle,
    Taken,
    Weight,
)

_NO_PLACE = Place()
_NO_TACKLE = Tackle()


@attrs.frozen(kw_only=True)
class _Ranked:
    """The best label of some set, with its load, uncertainty and counts."""

    load: float
    u: float
    counts: tuple[int, ...]


def choose_weights(
    weights: Sequence[Weight],
    permitted: Permitted,
    day: datetime.date,
    *,
    tackle: Tackle = _NO_TACKLE,
    place: Place = _NO_PLACE,
    guard_factor: float = 2.0,
    sharing: Sharing = "one standard",
) -> Choice:
    """Choose weights whose load, with its uncertainty, lies in the permitted band.

    L = m_t + sum n_k m_k; u = sqrt[(sum n_k u_k)² + u_t²] with one standard, sqrt[sum n_k u_k²
    + u_t²] independent; low + r u <= L <= high - r u. First the least |L - target| beyond
    `near`, then the fewest pieces, then the least |L - target|, then the least u.

    Args:
        weights: the shop's weights, kg, u standard uncertainty of one piece.
        permitted: the band, kg.
        day: the day of the test; weights due before it are left out.
        tackle: slings and frame on the hook, kg.
        place: what floor and bed carry and the heaviest piece, kg.
        guard_factor: r, guard band in standard uncertainties.
        sharing: whether the weights' uncertainties add (safe) or are independent.

    Returns:
        The choice; where nothing serves, the nearest miss with what is wanting.

    Raises:
        ValueError: two weights with one key, r below 0, or too many different weights.

    >>> import datetime
    >>> due, today = datetime.date(2028, 6, 30), datetime.date(2026, 11, 25)
    >>> half = Weight(key="w500", mass=500, u=0.125, count=4, due_on=due)
    >>> quarter = Weight(key="w250", mass=250, u=0.065, count=4, due_on=due)
    >>> band = Permitted(low=2000, high=2500, target=2250)
    >>> found = choose_weights([half, quarter], band, today)
    >>> found.why
    'load 2250.0 ± 1.1 kg, from 5 pieces; inside 2000 to 2500 kg by more than its guard band of 1.1 kg'

    References:
        JCGM 100:2008 (GUM), 5.1.2 and F.1.2.3 (inputs from one standard add), from memory;
        JCGM 106:2012, 8.3 (guard band), from memory. Air buoyancy (about 0.015 %) left out.
    """  # noqa: E501 (the sentence is shown whole)
    _check(weights, guard_factor)
    usable, left_out = _usable(weights, day, place)
    low, high = permitted.low, _highest(permitted, place)
    kinds = [_kind(weight, sharing) for weight in usable]
    hung = Fraction(repr(float(tackle.mass)))
    labels, unit, counts = sums_within(
        kinds, Fraction(repr(float(low))) - hung, Fraction(repr(float(high))) - hung
    )
    loads = as_floats(tackle.mass + labels.sums * float(unit))
    u = _uncertainty(labels.spread, tackle, sharing)
    g = guard_factor * u
    inside = (loads - g >= low - 1e-9) & (loads + g <= high + 1e-9)
    best = _best(labels, loads, u, inside, permitted)
    outcome = Outcome.FIT
    if best is None:
        best, outcome = _best(labels, loads, u, np.ones_like(inside), permitted), Outcome.BORDERLINE
    if best is None:
        return _nothing(usable, permitted, high, tackle, left_out, place)
    at = int(best)
    return _choice(
        outcome, float(loads[at]), float(u[at]), guard_factor, permitted, high, tackle,
        _taken(usable, counts(int(labels.code[at]))), left_out,
    )  # fmt: skip


def _check(weights: Sequence[Weight], guard_factor: float) -> None:
    keys = [weight.key for weight in weights]
    twice = sorted({key for key in keys if keys.count(key) > 1})
    if twice:
        raise ValueError(f"weights: key given twice: {', '.join(twice)}; expected each key once.")
    if not (math.isfinite(guard_factor) and guard_factor >= 0):
        raise ValueError(f"guard factor: given {guard_factor}; expected 0 or more.")


def _usable(
    weights: Sequence[Weight], day: datetime.date, place: Place
) -> tuple[list[Weight], tuple[tuple[str, str], ...]]:
    usable, left_out = [], []
    for weight in weights:
        reason = _reason(weight, day, place)
        if reason:
            left_out.append((weight.key, reason))
        elif weight.count:
            usable.append(weight)
    return usable, tuple(left_out)


def _reason(weight: Weight, day: datetime.date, place: Place) -> str:
    """Why a weight may not be used; empty where it may."""
    if weight.due_on is None:
        return "no due day of its calibration on record"
    if weight.due_on < day:
        return f"calibration was due on {weight.due_on}, before the test on {day}"
    if place.piece is not None and weight.mass > place.piece:
        return f"heavier than the {place.piece:g} kg that can be handled"
    return ""


def _highest(permitted: Permitted, place: Place) -> float:
    return min(limit for limit in (permitted.high, place.floor, place.bed) if limit is not None)


def _kind(weight: Weight, sharing: Sharing) -> Kind:
    spread = weight.u if sharing == "one standard" else weight.u**2
    return Kind(Fraction(repr(float(weight.mass))), spread, weight.count)


def _uncertainty(spread: Floats, tackle: Tackle, sharing: Sharing) -> Floats:
    variance = spread**2 if sharing == "one standard" else spread
    return as_floats(np.sqrt(variance + tackle.u**2))


def _best(
    labels: Labels, loads: Floats, u: Floats, among: NDArray[np.bool_], permitted: Permitted
) -> int | None:
    index = np.flatnonzero(among)
    if index.size == 0:
        return None
    away = np.round(np.abs(loads[index] - permitted.target), 9)
    beyond = np.maximum(away - permitted.near, 0.0)
    keys = (labels.code[index], u[index], away, labels.pieces[index], beyond)
    return int(index[np.lexsort(keys)[0]])


def _taken(usable: Sequence[Weight], counts: Sequence[int]) -> tuple[Taken, ...]:
    pairs = zip(usable, counts, strict=True)
    found = [Taken(key=w.key, count=n, mass=float(w.mass)) for w, n in pairs if n]
    return tuple(sorted(found, key=lambda one: -one.mass))


def _choice(
    outcome: Outcome,
    load: float,
    u: float,
    guard_factor: float,
    permitted: Permitted,
    high: float,
    tackle: Tackle,
    taken: tuple[Taken, ...],
    left_out: tuple[tuple[str, str], ...],
) -> Choice:
    g = guard_factor * u
    pieces = sum(one.count for one in taken)
    end = (
        f"by more than its guard band of {g:.1f} kg"
        if outcome is Outcome.FIT
        else f"but not by its guard band of {g:.1f} kg: weigh the load, or take other weights"
    )
    why = (
        f"load {load:.1f} ± {2 * u:.1f} kg, from {pieces} piece{'s' if pieces != 1 else ''}; "
        f"inside {permitted.low:g} to {high:g} kg {end}"
    )
    return Choice(
        outcome=outcome, load=load, u=u, guard=g, low=permitted.low, high=high,
        target=permitted.target, taken=taken, tackle=tackle, left_out=left_out, why=why,
    )  # fmt: skip


def _nothing(
    usable: Sequence[Weight],
    permitted: Permitted,
    high: float,
    tackle: Tackle,
    left_out: tuple[tuple[str, str], ...],
    place: Place,
) -> Choice:
    whole = tackle.mass + sum(weight.mass * weight.count for weight in usable)
    if high < permitted.low:
        where = "floor" if place.floor == high else "test bed"
        why = f"the {where} carries {high:g} kg only; the test needs {permitted.low:g} kg at least"
    elif whole < permitted.low:
        why = (
            f"all weights in date with the tackle make {whole:g} kg; the test needs "
            f"{permitted.low:g} kg at least: {permitted.low - whole:g} kg more, or a test bed"
        )
    else:
        why = f"no sum of the weights lies from {permitted.low:g} to {high:g} kg: a smaller weight"
    return Choice(
        outcome=Outcome.NOT_ESTABLISHED, load=math.nan, u=math.nan, guard=math.nan,
        low=permitted.low, high=high, target=permitted.target, taken=(), tackle=tackle,
        left_out=left_out, why=why,
    )  # fmt: skip
