"""Planning strips of a machine with some 550 steps against a general solver, at the same optimum.

Peer: the CP-SAT solver of ortools, one worker. Its model of the graph is built once and not
counted; counted for each plan are adding the wish and solving. Ours is counted whole: the
graph and what follows from it once, and every plan. Both in this one run, the same wishes:
one plan for every few parts, as when the labour of a quote is worked out part by part.

Then the same for single plans, each on a graph of its own that nobody has asked before: ours
with making the graph, the solver with building its model.

Two kinds of graph. "Hoist-like": nine bodies, each with the graph of a shipped design, minutes
drawn anew, one step in ten given a further way in at random. "Tangled": half of all steps with
two or three ways in from anywhere near; no machine is like that, and there the solver wins on
some wishes: shown for honesty, no aim.

Fails where an optimum differs, or where a hoist-like ratio falls below 20.
"""

from __future__ import annotations

import graphlib
import random
import sys
import time
from collections.abc import Callable, Sequence

import attrs

from hoistwright.hoist.library import shipped
from hoistwright.hoist.take_apart import Step
from hoistwright.quantity import Duration
from hoistwright.strip.bits import members
from hoistwright.strip.graph import MILLISECOND, Graph, build, graph_of
from hoistwright.strip.optimum import cheapest
from hoistwright.strip.plan import full_strip
from hoistwright.strip.rebuild import rebuild

STEPS = 549
BODIES = 9
PLANS = 300
SINGLE = 40
AIM = 20.0


def hoist_like(seed: int) -> list[Step]:
    """Nine bodies with the graph of a shipped design; some steps get another way in."""
    rng = random.Random(seed)
    return [
        step
        for body in range(BODIES)
        for step in _body(rng, f"body{body}.", _in_order(shipped("ardle-10000").take_apart))
    ]


def _in_order(steps: Sequence[Step]) -> list[Step]:
    by_key = {step.key: step for step in steps}
    needs = {
        step.key: {*step.after, *(key for group in step.after_any for key in group)}
        for step in steps
    }
    return [by_key[key] for key in graphlib.TopologicalSorter(needs).static_order()]


def _body(rng: random.Random, name: str, steps: Sequence[Step]) -> list[Step]:
    body: list[Step] = []
    for step in steps:
        after = [name + key for key in step.after]
        ways = [tuple(name + key for key in group) for group in step.after_any]
        if len(after) == 1 and rng.random() < 0.1:
            ways.append((after.pop(), rng.choice(body[-10:]).key))
        body.append(
            attrs.evolve(
                step,
                key=name + step.key,
                frees=tuple(name + key for key in step.frees),
                shows=(),
                consumes=(),
                after=tuple(after),
                after_any=tuple(tuple(dict.fromkeys(group)) for group in ways),
                minutes=Duration(30 * rng.randint(1, 20)),
            )
        )
    return body


def tangled(seed: int) -> list[Step]:
    """Ways in from anywhere near."""
    rng = random.Random(seed)
    steps: list[Step] = []
    for at in range(STEPS):
        near = [step.key for step in steps[-60:]]
        needs = tuple(rng.sample(near, min(len(near), rng.choice((1, 1, 2)))))
        choice = len(near) > 3 and rng.random() < 0.5
        steps.append(
            Step(
                key=f"s{at:03}",
                name="",
                frees=(f"part{at}",),
                after=needs if rng.random() < 0.7 else (),
                after_any=(tuple(rng.sample(near, rng.choice((2, 3)))),) if choice else (),
                minutes=Duration(30 * rng.randint(1, 20)),
            )
        )
    return steps


def wishes(graph: Graph, plans: int) -> list[list[int]]:
    """From one part to a dozen parts of the whole machine."""
    rng = random.Random(11)
    parts = sorted(graph.frees)
    return [
        [graph.frees[part] for part in rng.sample(parts, rng.choice((1, 3, 12)))]
        for _ in range(plans)
    ]


@attrs.frozen
class Timed:
    seconds: float
    optima: list[int]
    """In milliseconds of work."""


def ours(steps: list[Step], wanted: list[list[int]]) -> Timed:
    begin = time.perf_counter()
    graph = graph_of(steps)
    optima = [
        graph.total(cheapest(graph, demands, sides=False)) // MILLISECOND for demands in wanted
    ]
    return Timed(time.perf_counter() - begin, optima)


def solver(graph: Graph, wanted: list[list[int]], *, cold: bool = False) -> Timed:
    """`cold`: building the model counts too."""
    from ortools.sat.python import cp_model

    begin = time.perf_counter()
    model = cp_model.CpModel()
    taken = [model.new_bool_var(step.key) for step in graph.steps]
    for at, one in enumerate(taken):
        for before in members(graph.after[at]):
            model.add_implication(one, taken[before])
        for group in graph.groups[at]:
            model.add_bool_or([one.negated(), *(taken[way] for way in members(group))])
    work = [cost // MILLISECOND for cost in graph.cost]
    model.minimize(sum(cost * one for cost, one in zip(work, taken, strict=True)))
    engine = cp_model.CpSolver()
    engine.parameters.num_workers = 1
    seconds, optima = time.perf_counter() - begin if cold else 0.0, []
    for demands in wanted:
        asked = model.clone()
        begin = time.perf_counter()
        for demand in demands:
            ways = [asked.get_bool_var_from_proto_index(taken[at].index) for at in members(demand)]
            asked.add_bool_or(ways)
        status = engine.solve(asked)
        seconds += time.perf_counter() - begin
        if status != cp_model.OPTIMAL:
            raise SystemExit("the solver did not prove its optimum")
        optima.append(round(engine.objective_value))
    return Timed(seconds, optima)


def compare(name: str, make: Callable[[int], list[Step]], plans: int) -> float:
    """Many plans on one graph, then single plans on new graphs; the smaller ratio."""
    steps = make(7)
    graph = graph_of(steps)
    wanted = wishes(graph, plans)
    many = _ratio(f"{name}, {plans} plans", [ours(steps, wanted)], [solver(graph, wanted)], plans)
    own, peer = [], []
    for seed in range(SINGLE):
        steps = make(seed)
        graph = graph_of(steps)
        wanted = wishes(graph, SINGLE)[seed : seed + 1]
        own.append(ours(steps, wanted))
        peer.append(solver(graph, wanted, cold=True))
    return min(many, _ratio(f"{name}, {SINGLE} single plans, cold", own, peer, SINGLE))


def _ratio(name: str, own: list[Timed], peer: list[Timed], plans: int) -> float:
    if [timed.optima for timed in own] != [timed.optima for timed in peer]:
        raise SystemExit(f"{name}: an optimum differs from the solver's")
    mine, theirs = sum(timed.seconds for timed in own), sum(timed.seconds for timed in peer)
    print(
        f"{name}, all at the solver's optimum: ours {1000 * mine / plans:.2f} ms a plan, "
        f"solver {1000 * theirs / plans:.2f} ms, ratio {theirs / mine:.1f}"
    )
    return theirs / mine


def full_plan() -> None:
    """A whole plan of the largest shipped design, from a cold graph."""
    design = shipped("ardle-10000")
    build.cache_clear()
    begin = time.perf_counter()
    plan = full_strip(design)
    rebuild(design, plan)
    seconds = time.perf_counter() - begin
    print(
        f"full strip and rebuild of {design.key}, {len(design.parts)} lines of parts, "
        f"{len(plan.steps)} steps, cold: {1000 * seconds:.0f} ms, "
        f"{seconds / 0.5:.3f} of the 0.5 s allowed"
    )
    if seconds > 0.5:
        raise SystemExit("the full plan takes more than 0.5 s")


def main() -> None:
    few = graph_of(tangled(1)[:20])
    solver(few, [[1]])  # load the solver before the clock runs
    ratio = compare("hoist-like", hoist_like, PLANS)
    compare("tangled", tangled, PLANS // 6)
    full_plan()
    if ratio < AIM:
        sys.exit(f"hoist-like: least ratio {ratio:.1f}; expected at least {AIM:.0f}")


if __name__ == "__main__":
    main()
