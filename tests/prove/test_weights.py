"""Choice of test weights: against exhaustive search and a general solver, and its bounds."""

from __future__ import annotations

import datetime
import itertools
import math
import random

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.metrology import Outcome
from hoistwright.prove.weight_values import Choice, Permitted, Place, Sharing, Tackle, Weight
from hoistwright.prove.weights import choose_weights

DAY = datetime.date(2026, 11, 25)
DUE = datetime.date(2028, 6, 30)
SHOP = [
    Weight(key="w500", mass=500, u=0.125, count=4, due_on=DUE),
    Weight(key="w250", mass=250, u=0.065, count=4, due_on=DUE),
    Weight(key="w100", mass=100, u=0.025, count=5, due_on=DUE),
    Weight(key="w25", mass=25, u=0.010, count=4, due_on=DUE),
]
Score = tuple[float, int, float, float]


def by_trying_all(
    weights: list[Weight], permitted: Permitted, tackle: Tackle, r: float, sharing: Sharing
) -> Score | None:
    """The best score of all combinations, one by one."""
    best: Score | None = None
    for counts in itertools.product(*(range(weight.count + 1) for weight in weights)):
        pairs = list(zip(counts, weights, strict=True))
        load = tackle.mass + sum(n * weight.mass for n, weight in pairs)
        if sharing == "one standard":
            u = math.hypot(sum(n * weight.u for n, weight in pairs), tackle.u)
        else:
            u = math.sqrt(sum(n * weight.u**2 for n, weight in pairs) + tackle.u**2)
        if not permitted.low + r * u <= load + 1e-9 or not load + r * u <= permitted.high + 1e-9:
            continue
        away = round(abs(load - permitted.target), 9)
        score = (max(away - permitted.near, 0.0), sum(counts), away, u)
        best = score if best is None else min(best, score)
    return best


def score(choice: Choice, permitted: Permitted) -> Score:
    away = round(abs(choice.load - permitted.target), 9)
    return max(away - permitted.near, 0.0), choice.handlings, away, choice.u


@given(seed=st.integers(0, 10**6))
@settings(max_examples=150, deadline=None)
def test_it_is_as_good_as_trying_every_combination(seed: int) -> None:
    rng = random.Random(seed)
    weights = [
        Weight(
            key=f"w{at}",
            mass=rng.choice((500, 250, 200, 100, 50, 25, 20.5, 10, 499.9)),
            u=rng.choice((0.0, 0.02, 0.1, 0.5, 2.0)),
            count=rng.randint(0, 4),
            due_on=DUE,
        )
        for at in range(rng.randint(1, 4))
    ]
    tackle = Tackle(mass=rng.choice((0, 12.5)), u=rng.choice((0, 0.3)))
    low = rng.uniform(50, 2000)
    high = low + rng.choice((5, 50, 500))
    permitted = Permitted(
        low=low, high=high, target=rng.uniform(low, high), near=rng.choice((0, 5, 50))
    )
    sharing: Sharing = rng.choice(("one standard", "independent"))
    best = by_trying_all(weights, permitted, tackle, 2.0, sharing)
    found = choose_weights(weights, permitted, DAY, tackle=tackle, sharing=sharing)
    if best is None:
        assert found.outcome is not Outcome.FIT
    else:
        assert found.outcome is Outcome.FIT
        assert score(found, permitted) == pytest.approx(best, abs=1e-6)
        assert found.load == pytest.approx(
            tackle.mass + sum(one.count * one.mass for one in found.taken)
        )


def cp_sat(weights: list[Weight], permitted: Permitted) -> tuple[int, int]:
    """Least distance from the target, then least pieces, by a general solver; grams."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    counts = [model.new_int_var(0, weight.count, weight.key) for weight in weights]
    load = sum(round(w.mass * 1000) * n for w, n in zip(weights, counts, strict=True))
    guard = sum(round(2 * w.u * 1000) * n for w, n in zip(weights, counts, strict=True))
    model.add(load - guard >= round(permitted.low * 1000))
    model.add(load + guard <= round(permitted.high * 1000))
    away = model.new_int_var(0, 10**8, "away")
    model.add(away >= load - round(permitted.target * 1000))
    model.add(away >= round(permitted.target * 1000) - load)
    model.minimize(1000 * away + sum(counts))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return solver.value(away), sum(solver.value(n) for n in counts)


@pytest.mark.parametrize("target", [333, 625, 777, 1250, 1375, 2187.5, 2500])
def test_it_is_as_good_as_a_general_solver(target: float) -> None:
    """CP-SAT of ortools on a stock of eight kinds, the uncertainties adding."""
    stock = {500: 2, 250: 4, 200: 3, 100: 5, 50: 4, 25: 4, 20: 5, 10: 4}
    weights = [
        Weight(key=f"w{mass}", mass=mass, u=0.0005 * mass, count=n, due_on=DUE)
        for mass, n in stock.items()
    ]
    permitted = Permitted(low=0.95 * target, high=1.05 * target, target=target)
    away, pieces = cp_sat(weights, permitted)
    found = choose_weights(weights, permitted, DAY)
    assert round(abs(found.load - target) * 1000) == away
    assert found.handlings == pieces


def test_near_lets_fewer_handlings_win() -> None:
    exact = choose_weights(SHOP, Permitted(low=2000, high=2500, target=2275), DAY)
    near = choose_weights(SHOP, Permitted(low=2000, high=2500, target=2275, near=30), DAY)
    assert exact.load == 2275
    assert exact.handlings == 6
    assert near.load == 2250
    assert near.handlings == 5


def test_out_of_date_weights_are_not_used_and_are_named() -> None:
    old = attrs.evolve(SHOP[0], due_on=datetime.date(2026, 11, 24))
    none = attrs.evolve(SHOP[1], due_on=None)
    found = choose_weights([old, none, *SHOP[2:]], Permitted(low=500, high=600, target=500), DAY)
    assert {one.key for one in found.taken} <= {"w100", "w25"}
    assert dict(found.left_out).keys() == {"w500", "w250"}
    assert "2026-11-24" in dict(found.left_out)["w500"]


def test_the_due_day_itself_still_counts() -> None:
    today = [attrs.evolve(weight, due_on=DAY) for weight in SHOP]
    permitted = Permitted(low=900, high=1100, target=1000)
    assert choose_weights(today, permitted, DAY).outcome is Outcome.FIT


def test_floor_bed_and_piece_limits_hold() -> None:
    permitted = Permitted(low=1000, high=1250, target=1250)
    floor = choose_weights(SHOP, permitted, DAY, place=Place(floor=1100))
    assert floor.load + floor.guard <= 1100
    light = choose_weights(SHOP, permitted, DAY, place=Place(piece=250))
    assert all(one.mass <= 250 for one in light.taken)
    bed = choose_weights(SHOP, permitted, DAY, place=Place(bed=900))
    assert bed.outcome is Outcome.NOT_ESTABLISHED
    assert "test bed carries 900 kg only" in bed.why


def test_a_load_on_the_edge_of_the_band_is_borderline() -> None:
    one = [Weight(key="w", mass=1000, u=1.0, due_on=DUE)]
    found = choose_weights(one, Permitted(low=1000, high=1250, target=1000), DAY)
    assert found.outcome is Outcome.BORDERLINE
    assert "not by its guard band of 2.0 kg" in found.why


def test_what_is_wanting_is_said() -> None:
    found = choose_weights(SHOP, Permitted(low=10000, high=12500, target=10000), DAY)
    assert found.outcome is Outcome.NOT_ESTABLISHED
    assert "3600 kg" in found.why
    assert "6400 kg more" in found.why
    gap = choose_weights(SHOP[:1], Permitted(low=600, high=900, target=700), DAY)
    assert "no sum of the weights" in gap.why
    assert choose_weights([], Permitted(low=1, high=2, target=1), DAY).taken == ()


def test_bad_values_are_refused() -> None:
    with pytest.raises(ValueError, match="expected low ≤ target ≤ high"):
        Permitted(low=2, high=1, target=1)
    with pytest.raises(ValueError, match="given twice: w500"):
        choose_weights([SHOP[0], SHOP[0]], Permitted(low=1, high=2, target=1), DAY)
    with pytest.raises(ValueError, match="above 0"):
        Weight(key="w", mass=0, u=0.1)


@given(st.permutations(SHOP))
@settings(deadline=None)
def test_the_order_of_the_weights_does_not_matter(weights: list[Weight]) -> None:
    permitted = Permitted(low=1000, high=1250, target=1187.5)
    found = choose_weights(weights, permitted, DAY)
    assert (found.load, found.handlings) == (1200, 4)
