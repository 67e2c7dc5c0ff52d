"""ISO 14253-1, rule for proving conformity with a tolerance, as commonly described.

Source: ISO 14253-1:1998 and 2017, from memory and common practice (the text was not at hand):
conformity is proven where LSL + U ≤ y ≤ USL − U; nonconformity is proven where y lies more than
U beyond a limit; in between neither is. The uncertainty counts against whoever has to prove.
The 2017 edition sets 95 % conformance probability as default, one-sided 1.65 u.
Tolerance: none, decisions are exact; probabilities to the printed digit.

Our rule renews from the limit on, without asking for proof of nonconformity: for a hoist
that is the safe side. So: proven conformity = fit; everything else is never fit.
"""

from __future__ import annotations

import numpy as np
import pytest

from hoistwright.metrology import Outcome, Side, decide, guarded, judge

LSL, USL, U = 9.0, 10.0, 0.125  # binary fractions: the edges are exact
Y = np.arange(8.5, 10.5 + 1 / 128, 1 / 64)


def both_sides(r: float = 2.0) -> np.ndarray[tuple[int, ...], np.dtype[np.int8]]:
    upper = decide(Y, U / 2, USL, Side.UPPER, rule=guarded(r)).codes
    return np.maximum(upper, decide(Y, U / 2, LSL, Side.LOWER, rule=guarded(r)).codes)


def test_fit_is_exactly_where_conformity_is_proven() -> None:
    proven = (LSL + U <= Y) & (USL - U >= Y)
    assert np.array_equal(both_sides() == Outcome.FIT, proven)


def test_where_nonconformity_is_proven_the_part_is_renewed() -> None:
    proven = (LSL - U >= Y) | (USL + U <= Y)
    assert (both_sides()[proven] == Outcome.RENEW).all()


def test_between_limit_and_zone_neither_is_proven() -> None:
    inside = (LSL < Y) & (USL > Y)
    unproven = inside & ~((LSL + U <= Y) & (USL - U >= Y))
    assert (both_sides()[unproven] == Outcome.BORDERLINE).all()


@pytest.mark.parametrize(("r", "probability"), [(1.65, 0.95), (2.0, 0.977)])
def test_the_2017_default_is_95_per_cent_one_sided(r: float, probability: float) -> None:
    verdict = judge(USL - r * 0.0625, 0.0625, USL, rule=guarded(r))
    assert verdict.outcome is Outcome.FIT
    assert 1 - verdict.probability == pytest.approx(probability, abs=6e-4)
