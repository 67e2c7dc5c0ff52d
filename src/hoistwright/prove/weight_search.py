"""The exact search behind the choice of test weights: sums of bounded counts, the best first.

Every sum of weights is a label (sum, pieces, spread); kinds are added one after the other.
Labels that can no longer reach the band are dropped, and of labels with one sum only those
stay that no other beats in both pieces and spread (a Pareto front). So nothing is lost: from
one sum on, all continuations cost two labels the same.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import lcm

import attrs
import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

MOST_LABELS = 3_000_000
"""More than this needs another way; no shop has so many different weights."""


@attrs.frozen
class Kind:
    """One kind of weight: exact mass, how it spreads (u or u²), how many there are."""

    mass: Fraction
    spread: float
    count: int


@attrs.frozen(eq=False)
class Labels:
    """Sums in whole units, pieces, spread, and which counts they are made of."""

    sums: Ints
    pieces: Ints
    spread: Floats
    code: Ints

    def at(self, index: NDArray[np.intp] | NDArray[np.bool_]) -> Labels:
        return Labels(self.sums[index], self.pieces[index], self.spread[index], self.code[index])


def sums_within(
    kinds: Sequence[Kind], low: Fraction, high: Fraction
) -> tuple[Labels, Fraction, Callable[[int], tuple[int, ...]]]:
    """All undominated ways to make a sum from `low` to `high` out of bounded counts.

    s = sum n_k m_k with 0 <= n_k <= count_k

    Args:
        kinds: the kinds of weight; masses exact.
        low: least sum, kg, may be below 0.
        high: greatest sum, kg.

    Returns:
        The labels (sums in units), the unit in kg, and a function from a label's code to its
        counts, in the order of `kinds`.

    Raises:
        ValueError: more different sums than can be searched.

    >>> kinds = [Kind(Fraction(500), 0.1, 2), Kind(Fraction(250), 0.1, 1)]
    >>> labels, unit, counts = sums_within(kinds, Fraction(700), Fraction(800))
    >>> [(int(s) * unit, counts(int(c))) for s, c in zip(labels.sums, labels.code)]
    [(Fraction(750, 1), (1, 1))]

    References:
        Martello and Toth, Knapsack Problems, ch. 3 and 4 (bounded knapsack, subset sum by
        dynamic programming with dominance), from memory.
    """
    order = sorted(range(len(kinds)), key=lambda at: -kinds[at].mass)
    unit = _unit([kind.mass for kind in kinds])
    radix = _radix(kinds, order)
    least, most = -int(-low // unit), int(high // unit)
    room = sum(int(kind.mass / unit) * kind.count for kind in kinds)
    nothing = np.zeros(1, np.int64)
    labels = Labels(nothing, nothing, np.zeros(1), nothing)
    for at in order:
        room -= int(kinds[at].mass / unit) * kinds[at].count
        mass = int(kinds[at].mass / unit)
        labels = _added(labels, kinds[at], mass, radix[at], least - room, most)
    whole = labels.at((labels.sums >= least) & (labels.sums <= most))

    def counts(code: int) -> tuple[int, ...]:
        return tuple(code // radix[at] % (kinds[at].count + 1) for at in range(len(kinds)))

    return whole, unit, counts


def _added(labels: Labels, kind: Kind, mass: int, radix: int, low: int, high: int) -> Labels:
    """The labels with 0, 1, ... pieces of one more kind, without those out of reach."""
    parts = []
    for n in range(kind.count + 1):
        sums = labels.sums + n * mass
        keep = (sums <= high) & (sums >= low)
        some = labels.at(keep)
        parts.append(
            Labels(
                some.sums + n * mass,
                some.pieces + n,
                some.spread + n * kind.spread,
                some.code + n * radix,
            )
        )
        if sum(part.sums.size for part in parts) > MOST_LABELS:
            raise ValueError(
                "weights: too many different sums to search; leave out some kinds, or widen "
                "what counts as near the target."
            )
    fields = ("sums", "pieces", "spread", "code")
    return _undominated(Labels(*(np.concatenate([getattr(p, f) for p in parts]) for f in fields)))


def _undominated(labels: Labels) -> Labels:
    """For each sum only the labels that none beats in pieces and spread together."""
    if labels.sums.size == 0:
        return labels
    ranked = labels.at(np.lexsort((labels.code, labels.spread, labels.pieces, labels.sums)))
    group = np.cumsum(np.concatenate(([0], np.diff(ranked.sums) != 0)))
    rank = np.unique(ranked.spread, return_inverse=True)[1].reshape(-1)
    # falling with the group, so that one running minimum serves all groups
    value = rank - group * (rank.max() + 1)
    before = np.concatenate(([np.iinfo(np.int64).max], np.minimum.accumulate(value)[:-1]))
    return ranked.at(value < before)


def _unit(masses: Sequence[Fraction]) -> Fraction:
    """The greatest unit of which every mass is a whole multiple."""
    if not masses:
        return Fraction(1)
    below = lcm(*(mass.denominator for mass in masses))
    whole = [int(mass * below) for mass in masses]
    return Fraction(int(np.gcd.reduce(np.asarray(whole, dtype=object))), below)


def _radix(kinds: Sequence[Kind], order: Sequence[int]) -> dict[int, int]:
    place, radix = 1, {}
    for at in order:
        radix[at] = place
        place *= kinds[at].count + 1
    if place >= 2**62:
        raise ValueError("weights: too many kinds and pieces; leave some out.")
    return radix
