"""Random take-apart graphs: the optimum against exhaustive search and against a general
solver, the order and the schedule against checkers that know nothing of the planner."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterable, Sequence

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hoistwright.hoist.parts import Part, Side
from hoistwright.hoist.take_apart import Step
from hoistwright.quantity import Duration
from hoistwright.strip.bits import mask_of, members
from hoistwright.strip.graph import MILLISECOND, PIECE, Graph, graph_of
from hoistwright.strip.optimum import cheapest
from hoistwright.strip.sequence import sequence, supports, turns_of
from hoistwright.strip.two_people import mirrored, schedule

SIDES: tuple[Side, ...] = ("wheel side", "middle", "gear side", "hook ends")
PARTS = [Part(key=f"ring{n}", name="ring", quantity=n, renewal="always") for n in (1, 2, 3)]


@st.composite
def steps_lists(draw: st.DrawFn, *, circles: bool = False, most: int = 8) -> list[Step]:
    """Steps with needs, ways in, sides, and one-use parts; `circles` lets ways run round."""
    count = draw(st.integers(1, most))
    names = draw(st.permutations([f"s{n}" for n in range(count)]))
    steps = []
    for at, name in enumerate(names):
        before = names[:at]
        others = [other for other in names if other != name] if circles else before
        needs = draw(st.lists(st.sampled_from(before), max_size=2, unique=True)) if before else []
        groups = (
            draw(
                st.lists(
                    st.lists(st.sampled_from(others), min_size=2, max_size=3, unique=True),
                    max_size=2,
                )
            )
            if len(others) > 1
            else []
        )
        steps.append(
            Step(
                key=name,
                name=name,
                after=tuple(needs),
                after_any=tuple(tuple(group) for group in groups),
                side=draw(st.sampled_from(SIDES)),
                consumes=tuple(draw(st.lists(st.sampled_from(["ring1", "ring2"]), max_size=1))),
                minutes=Duration(60 * draw(st.sampled_from([0, 1, 1, 2, 3, 5]))),
            )
        )
    return steps


def demand_lists(graph: Graph) -> st.SearchStrategy[list[int]]:
    places = st.integers(0, len(graph.steps) - 1)
    return st.lists(
        st.lists(places, min_size=1, max_size=2, unique=True).map(mask_of), min_size=1, max_size=3
    )


def can_be_done(steps: Sequence[Step], order: Iterable[str]) -> bool:
    """The independent checker: walk through the order by names, as a fitter would."""
    by_key = {step.key: step for step in steps}
    done: set[str] = set()
    for key in order:
        step = by_key[key]
        if key in done or not set(step.after) <= done:
            return False
        if any(done.isdisjoint(group) for group in step.after_any):
            return False
        done.add(key)
    return True


def some_order(steps: Sequence[Step], chosen: set[str]) -> bool:
    """Can these steps be done in some order?"""
    by_key = {step.key: step for step in steps}
    order: list[str] = []
    while len(order) < len(chosen):
        ready = [
            key
            for key in sorted(chosen.difference(order))
            if set(by_key[key].after) <= set(order)
            and all(set(group) & set(order) for group in by_key[key].after_any)
        ]
        if not ready:
            return False
        order.extend(ready)
    return can_be_done(steps, order)


Figures = tuple[float, int, int, int]


def figures(steps: Iterable[Step]) -> Figures:
    """What is to be least, in this order: seconds, pieces, sides, steps."""
    steps = list(steps)
    pieces = {part.key: part.quantity for part in PARTS}
    return (
        sum(float(step.minutes) for step in steps),
        sum(pieces[key] for step in steps for key in step.consumes),
        len({step.side for step in steps}),
        len(steps),
    )


def exhaustive(graph: Graph, demands: list[int]) -> Figures | None:
    """The best figures of all sets of steps there are; None where none will do."""
    best: Figures | None = None
    for chosen in itertools.product((False, True), repeat=len(graph.steps)):
        taken = [step for step, taken in zip(graph.steps, chosen, strict=True) if taken]
        keys = {step.key for step in taken}
        met = all(any(graph.steps[at].key in keys for at in members(mask)) for mask in demands)
        if met and some_order(graph.steps, keys):
            found = figures(taken)
            best = found if best is None else min(best, found)
    return best


def keys_of(graph: Graph, chosen: int) -> list[str]:
    return [graph.steps[at].key for at in members(chosen)]


@pytest.mark.parametrize("circles", [False, True])
def test_the_optimum_is_that_of_exhaustive_search(circles: bool) -> None:
    @settings(max_examples=300, deadline=None, suppress_health_check=list(HealthCheck))
    @given(st.data())
    def check(data: st.DataObject) -> None:
        graph = graph_of(data.draw(steps_lists(circles=circles)), PARTS)
        demands = data.draw(demand_lists(graph))
        best = exhaustive(graph, demands)
        if best is None:
            with pytest.raises(ValueError, match="no order of steps meets them all"):
                cheapest(graph, demands)
            return
        chosen = cheapest(graph, demands)
        assert some_order(graph.steps, set(keys_of(graph, chosen)))
        assert all(chosen & demand for demand in demands)
        assert figures(graph.steps[at] for at in members(chosen)) == best

    check()


@settings(max_examples=100, deadline=None)
@given(st.data())
def test_the_optimum_does_not_hang_on_the_order_in_the_file(data: st.DataObject) -> None:
    steps = data.draw(steps_lists())
    graph = graph_of(steps, PARTS)
    demands = data.draw(demand_lists(graph))
    mixed = graph_of(data.draw(st.permutations(steps)), PARTS)
    assert keys_of(graph, cheapest(graph, demands)) == keys_of(mixed, cheapest(mixed, demands))


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_wanting_more_never_costs_less(data: st.DataObject) -> None:
    graph = graph_of(data.draw(steps_lists(most=12)), PARTS)
    demands = data.draw(demand_lists(graph))
    less = graph.total(cheapest(graph, demands[:1], sides=False))
    more = graph.total(cheapest(graph, demands, sides=False))
    each = sum(graph.total(cheapest(graph, [one], sides=False)) for one in demands)
    assert less <= more <= each  # shared steps are paid once


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_the_order_can_be_done_and_needs_the_fewest_turns(data: st.DataObject) -> None:
    steps = data.draw(steps_lists(most=6))
    graph = graph_of(steps, PARTS)
    chosen = cheapest(graph, data.draw(demand_lists(graph)))
    order = sequence(graph, chosen)
    assert sorted(order) == list(members(chosen))
    assert can_be_done(steps, [graph.steps[at].key for at in order])
    possible = [
        way
        for way in itertools.permutations(order)
        if can_be_done(steps, [graph.steps[at].key for at in way])
    ]
    assert turns_of(graph, order) == min(turns_of(graph, way) for way in possible)


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_two_people_are_never_in_each_others_way(data: st.DataObject) -> None:
    steps = data.draw(steps_lists(most=12))
    graph = graph_of(steps, PARTS)
    order = sequence(graph, graph.all)
    waits = supports(graph, order)
    for way, needs in ((order, waits), (order[::-1], mirrored(order, waits))):
        seconds = {at: float(graph.steps[at].minutes) for at in way}
        sides = {at: graph.steps[at].side for at in way}
        tasks = schedule(way, needs, seconds, sides)
        assert set(tasks) == set(order)
        for one, other in itertools.combinations(tasks.values(), 2):
            apart = one.end <= other.start or other.end <= one.start
            assert apart or (one.person != other.person and sides[one.step] != sides[other.step])
        for at, task in tasks.items():
            assert task.end == task.start + seconds[at]
            assert all(tasks[before].end <= task.start for before in members(needs[at]))
        total, last = sum(seconds.values()), max(task.end for task in tasks.values())
        assert total / 2 - 1e-9 <= last <= total + 1e-9
        by_end = sorted(tasks.values(), key=lambda task: (task.end, task.start))
        if way is order:
            assert can_be_done(steps, [graph.steps[task.step].key for task in by_end])


def test_steps_that_wait_for_steps_not_chosen_are_named() -> None:
    steps = [
        Step(key="cover", name="", minutes=Duration(60)),
        Step(key="disc", name="", minutes=Duration(60), after=("cover",)),
    ]
    graph = graph_of(steps)
    with pytest.raises(ValueError, match="disc wait for steps that are not chosen"):
        sequence(graph, 0b10)


def large(seed: int, count: int, share: float, window: int) -> list[Step]:
    """Many steps, a share of them with two or three ways in."""
    rng = random.Random(seed)
    names = [f"s{n:03}" for n in range(count)]
    steps = []
    for at, name in enumerate(names):
        near = names[max(0, at - window) : at]
        choice = len(near) > 3 and rng.random() < share
        needs = rng.sample(near, min(len(near), rng.choice([1, 1, 2])))
        steps.append(
            Step(
                key=name,
                name=name,
                after=tuple(needs) if rng.random() < 0.7 else (),
                after_any=(tuple(rng.sample(near, rng.choice([2, 3]))),) if choice else (),
                minutes=Duration(30 * rng.randint(1, 20)),
            )
        )
    return steps


def solver_optimum(graph: Graph, demands: list[int]) -> int:
    """The least cost by a general constraint solver (ortools CP-SAT), in milliseconds."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    taken = [model.new_bool_var(step.key) for step in graph.steps]
    for at, one in enumerate(taken):
        for before in members(graph.after[at]):
            model.add_implication(one, taken[before])
        for group in graph.groups[at]:
            model.add_bool_or([one.negated(), *(taken[way] for way in members(group))])
    for demand in demands:
        model.add_bool_or([taken[way] for way in members(demand)])
    milliseconds = [cost // MILLISECOND for cost in graph.cost]
    model.minimize(sum(cost * one for cost, one in zip(milliseconds, taken, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize(("share", "window"), [(0.15, 15), (0.3, 30), (0.5, 60)])
def test_the_optimum_is_that_of_a_general_solver(seed: int, share: float, window: int) -> None:
    graph = graph_of(large(seed, 500, share, window))
    rng = random.Random(1000 + seed)
    demands = [1 << rng.randrange(200, 500) for _ in range(12)]
    ours = graph.total(cheapest(graph, demands, sides=False))
    assert ours // MILLISECOND == solver_optimum(graph, demands)


def test_many_tangled_graphs_have_the_optimum_of_a_general_solver() -> None:
    """Smaller, but with choices that lean on each other, so that the search must branch."""
    for seed in range(80):
        graph = graph_of(large(seed, 110, 0.7, 40))
        rng = random.Random(seed)
        demands = [1 << rng.randrange(60, 110) for _ in range(6)]
        ours = graph.total(cheapest(graph, demands, sides=False))
        assert ours // MILLISECOND == solver_optimum(graph, demands), seed


def test_many_wishes_on_one_graph_have_the_optimum_of_a_general_solver() -> None:
    """What an earlier plan has worked out must not lead a later one astray, nor a first plan."""
    for seed in range(6):
        steps = large(seed, 400, 0.5, 60)
        graph = graph_of(steps)
        rng = random.Random(seed)
        for _ in range(12):
            demands = [1 << rng.randrange(400) for _ in range(rng.choice([1, 3, 12]))]
            best = solver_optimum(graph, demands)
            assert graph.total(cheapest(graph, demands, sides=False)) // MILLISECOND == best
            first = graph_of(steps)
            assert first.total(cheapest(first, demands, sides=False)) // MILLISECOND == best


def test_weights_keep_minutes_pieces_and_steps_apart() -> None:
    one = Step(key="a", name="", minutes=Duration(0.001))
    many = [Step(key=f"b{n}", name="", minutes=Duration(0), consumes=("x",)) for n in range(900)]
    assert graph_of([one]).cost[0] > sum(graph_of(many).cost)
    assert len(many) < PIECE
