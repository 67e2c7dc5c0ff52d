"""Decisions: exact at the edges, never fit from nothing, and lawful under change."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from hoistwright.metrology import (
    DecisionRule,
    Outcome,
    Side,
    decide,
    distribution,
    guard_factor,
    guarded,
    judge,
    maximum_probability,
    simple,
)

FIT, BORDERLINE, NOT_ESTABLISHED, RENEW = Outcome
RULES = [guarded(), guarded(0.0), guarded(1.645), maximum_probability(0.05), simple()]

# binary fractions, so that sums are exact and an edge is an edge
fractions = st.integers(-4096, 4096).map(lambda i: i / 64)
small = st.integers(0, 256).map(lambda i: i / 64)
dofs = st.one_of(st.just(math.inf), st.floats(1.0, 200.0))
rules = st.sampled_from(RULES)
sides = st.sampled_from(Side)


def code(
    x: float,
    u: float,
    limit: float,
    side: Side,
    rule: DecisionRule = RULES[0],
    dof: float = math.inf,
) -> Outcome:
    return Outcome(int(decide(x, u, limit, side, dof=dof, rule=rule).codes))


@pytest.mark.parametrize(
    ("x", "u", "outcome"),
    [
        (9.5, 0.25, FIT),  # x + 2u = L exactly
        (9.5000001, 0.25, BORDERLINE),
        (9.9999999, 0.25, BORDERLINE),
        (10.0, 0.25, RENEW),  # on the limit is not inside it
        (10.5, 0.25, RENEW),
        (9.9999999, 0.0, FIT),  # a reading taken as exact is only compared
        (10.0, 0.0, RENEW),
        (math.nan, 0.25, NOT_ESTABLISHED),
        (9.5, math.nan, NOT_ESTABLISHED),
        (9.5, math.inf, NOT_ESTABLISHED),
        (-math.inf, 0.25, NOT_ESTABLISHED),
        (math.inf, 0.25, NOT_ESTABLISHED),
    ],
)
def test_guarded_at_the_edges(x: float, u: float, outcome: Outcome) -> None:
    assert code(x, u, 10.0, Side.UPPER) is outcome
    assert code(-x, u, -10.0, Side.LOWER) is outcome


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("missing", ["x", "u", "limit", "dof"])
def test_what_is_missing_is_never_fit(rule: DecisionRule, missing: str) -> None:
    given_ = {"x": 0.0, "u": 0.1, "limit": 10.0, "dof": 5.0} | {missing: math.nan}
    decision = decide(
        given_["x"], given_["u"], given_["limit"], Side.UPPER, dof=given_["dof"], rule=rule
    )
    assert Outcome(int(decision.codes)) is NOT_ESTABLISHED
    assert np.isnan(decision.beyond)


def test_the_probability_rule() -> None:
    rule = maximum_probability(0.05)
    assert code(10 - 1.6449 * 0.5, 0.5, 10.0, Side.UPPER, rule) is FIT
    assert code(10 - 1.6448 * 0.5, 0.5, 10.0, Side.UPPER, rule) is BORDERLINE
    assert code(10.0, 0.5, 10.0, Side.UPPER, rule) is RENEW
    assert code(10.0, 0.5, 10.0, Side.UPPER, maximum_probability(0.5)) is RENEW


def test_simple_acceptance_regards_no_uncertainty_and_cannot_release() -> None:
    assert code(9.999, 5.0, 10.0, Side.UPPER, simple()) is FIT
    assert code(10.0, 5.0, 10.0, Side.UPPER, simple()) is RENEW
    assert [rule.can_release for rule in RULES] == [True, True, True, True, False]


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ({"uncertainty": -0.1}, "negative"),
        ({"uncertainty": [0.1, -0.1]}, "negative"),
        ({"dof": 0.0}, "degrees of freedom"),
        ({"dof": -1.0}, "degrees of freedom"),
        ({"side": 0}, "neither"),
        ({"side": [1, 2]}, "neither"),
    ],
)
def test_refuses(arguments: dict[str, object], message: str) -> None:
    base: dict[str, object] = {"value": [1.0, 2.0], "uncertainty": 0.1, "limit": 3.0, "side": 1}
    with pytest.raises(ValueError, match=message):
        decide(**(base | arguments))  # type: ignore[arg-type]


@pytest.mark.parametrize("r", [-0.1, math.nan, math.inf])
def test_a_guard_parameter_that_is_none(r: float) -> None:
    with pytest.raises(ValueError, match="guard band"):
        guarded(r)
    with pytest.raises(ValueError, match="guard band"):
        guard_factor(r)


@pytest.mark.parametrize("p", [0.0, -0.1, 0.51, math.nan])
def test_a_probability_that_is_none(p: float) -> None:
    with pytest.raises(ValueError, match="probability"):
        maximum_probability(p)


@given(fractions, small, small, fractions, sides, rules, dofs)
def test_more_uncertainty_never_makes_it_fit(
    x: float, u: float, more: float, limit: float, side: Side, rule: DecisionRule, dof: float
) -> None:
    if code(x, u, limit, side, rule, dof) in (BORDERLINE, RENEW):
        assert code(x, u + more, limit, side, rule, dof) is not FIT


@given(fractions, small, fractions, sides, st.floats(1, 100), st.floats(0, 100))
def test_fewer_degrees_of_freedom_never_make_it_fit(
    x: float, u: float, limit: float, side: Side, dof: float, more: float
) -> None:
    if code(x, u, limit, side, dof=dof + more) is not FIT:
        assert code(x, u, limit, side, dof=dof) is not FIT


@given(fractions, small, small, fractions, sides, rules, dofs)
def test_nearer_to_the_limit_is_never_better(
    x: float, step: float, u: float, limit: float, side: Side, rule: DecisionRule, dof: float
) -> None:
    near, far = x + side * step, x
    assert code(near, u, limit, side, rule, dof) >= code(far, u, limit, side, rule, dof)
    p_near, p_far = decide(np.array([near, far]), u, limit, side, dof=dof).beyond
    assert p_near >= p_far


@given(fractions, small, fractions, sides, rules, dofs)
def test_mirrored_is_the_same(
    x: float, u: float, limit: float, side: Side, rule: DecisionRule, dof: float
) -> None:
    one = decide(x, u, limit, side, dof=dof, rule=rule)
    other = decide(-x, u, -limit, -side, dof=dof, rule=rule)
    assert one.codes == other.codes
    assert one.beyond == other.beyond


@given(fractions, small, fractions, sides, rules, dofs, st.integers(-40, 40))
def test_the_unit_does_not_matter(
    x: float, u: float, limit: float, side: Side, rule: DecisionRule, dof: float, power: int
) -> None:
    scale = 2.0**power  # exact, so that even an edge stays an edge
    one = decide(x, u, limit, side, dof=dof, rule=rule)
    other = decide(x * scale, u * scale, limit * scale, side, dof=dof, rule=rule)
    assert one.codes == other.codes
    assert one.beyond == other.beyond


anything = st.floats(allow_nan=True, allow_infinity=True)
row = st.tuples(
    anything, st.floats(0, allow_infinity=True) | st.just(math.nan), anything, sides, dofs
)


@given(st.lists(row, min_size=1, max_size=12), rules)
def test_a_row_among_many_is_decided_as_alone(
    rows: list[tuple[float, float, float, Side, float]], rule: DecisionRule
) -> None:
    x, u, limit, side, dof = (np.array(column, dtype=float) for column in zip(*rows, strict=True))
    many = decide(x, u, limit, side.astype(np.int8), dof=dof, rule=rule)
    for i, (x1, u1, limit1, side1, dof1) in enumerate(rows):
        one = decide(x1, u1, limit1, side1, dof=dof1, rule=rule)
        assert one.codes == many.codes[i]
        assert np.array_equal(one.beyond, many.beyond[i], equal_nan=True)
        if not (math.isfinite(x1) and math.isfinite(u1) and math.isfinite(limit1)):
            assert many.codes[i] == NOT_ESTABLISHED


@given(fractions, small, fractions, sides, dofs)
def test_probability_and_guard_band_say_the_same(
    x: float, u: float, limit: float, side: Side, dof: float
) -> None:
    """Outside rounding at the very edge, fit is P(beyond) ≤ Φ(−2) = 2.275 %."""
    verdict = judge(x, u, limit, side, dof=dof)
    assume(abs(verdict.probability - 0.022_750_131_948) > 1e-9)
    if verdict.outcome is FIT:
        assert verdict.probability < 0.022_750_131_948
    elif u > 0:
        assert verdict.probability > 0.022_750_131_948


def test_blocks_and_threads_join_without_a_seam() -> None:
    x = np.linspace(0, 20, 200_001)  # more than one block, and enough for several threads
    dof = np.where(np.arange(x.size) % 7 == 0, 3.0, np.inf)
    whole = decide(x, 0.5, 10.0, dof=dof)
    cuts = [slice(i, i + 9_999) for i in range(0, x.size, 9_999)]
    parts = [decide(x[cut], 0.5, 10.0, dof=dof[cut]) for cut in cuts]
    assert np.array_equal(whole.codes, np.concatenate([part.codes for part in parts]))
    assert np.array_equal(whole.beyond, np.concatenate([part.beyond for part in parts]))


def test_shapes_broadcast_and_nothing_given_gives_nothing() -> None:
    grid = decide(np.zeros((3, 1)), 0.1, np.array([1.0, -1.0]))
    assert grid.codes.tolist() == [[FIT, RENEW]] * 3
    assert decide(np.array([]), 0.1, 1.0).codes.size == 0
    assert decide(0.0, 0.1, 1.0).codes.shape == ()


def test_judge_tells_all_it_used() -> None:
    verdict = judge(9.0, 0.25, 10.0, Side.UPPER, dof=4.0)
    assert verdict.guard == pytest.approx(0.25 * float(guard_factor(2.0, 4.0)))
    assert verdict.acceptance_limit == 10.0 - verdict.guard
    assert verdict.probability == float(distribution(-4.0, 4.0))
    lower = judge(9.0, 0.25, 8.0, Side.LOWER)
    assert (lower.acceptance_limit, lower.outcome) == (8.5, FIT)
    assert {judge(x, 0.25, 10.0).reason for x in (9.0, 9.9, 10.0, math.nan)} >= {
        "the reading is at or beyond the limit",
        "the value, its uncertainty or the limit is missing",
    }


def test_a_rule_says_itself_in_words() -> None:
    assert "2 standard uncertainties" in guarded().words
    assert "at most 5 %" in maximum_probability(0.05).words
    assert "cannot release" in simple().words


@given(fractions, small, fractions, sides, rules, dofs)
def test_a_reading_is_fit_up_to_its_acceptance_limit(
    x: float, u: float, limit: float, side: Side, rule: DecisionRule, dof: float
) -> None:
    verdict = judge(x, u, limit, side, dof=dof, rule=rule)
    assume(abs(x - verdict.acceptance_limit) > 1e-6)
    inside = side * x < side * verdict.acceptance_limit
    assert (verdict.outcome is FIT) == inside
