"""Minimum cut and selection against networkx, exhaustive search, and a constraint solver.

networkx.minimum_cut (independent code) on random networks; every subset tried for random
closures with alternatives; OR-tools CP-SAT with order variables on the shipped designs with
random prices and risks. All equal to the unit.
"""

from __future__ import annotations

import itertools
import random

import networkx as nx
import pytest
from ortools.sat.python import cp_model

from hoistwright.hoist.library import shipped
from hoistwright.renew.flow import Network, minimum_cut
from hoistwright.renew.network import model
from hoistwright.renew.policy import PartRisk, Policy
from hoistwright.renew.prices import PriceLine, PriceList
from hoistwright.renew.selection import Problem, closure, select


@pytest.mark.parametrize("seed", range(40))
def test_cut_value_and_side_as_networkx(seed: int) -> None:
    rnd = random.Random(seed)
    nodes = rnd.randint(2, 14)
    ours = Network(nodes)
    theirs: nx.DiGraph[int] = nx.DiGraph()
    theirs.add_nodes_from(range(nodes))
    for tail, head in itertools.permutations(range(nodes), 2):
        if rnd.random() < 0.35:
            room = rnd.randint(0, 20)
            ours.arc(tail, head, room)
            theirs.add_edge(tail, head, capacity=room)
    value, side = minimum_cut(ours, 0, nodes - 1)
    assert value == nx.minimum_cut_value(theirs, 0, nodes - 1)
    cut = sum(d["capacity"] for a, b, d in theirs.edges(data=True) if a in side and b not in side)
    assert cut == value


def test_max_flow_of_the_textbook_network() -> None:
    """Cormen et al., Introduction to Algorithms, fig. 26.1 (3rd edition): flow 23."""
    network = Network(6)
    for tail, head, room in (
        (0, 1, 16), (0, 2, 13), (1, 3, 12), (2, 1, 4), (2, 4, 14), (3, 2, 9), (3, 5, 20),
        (4, 3, 7), (4, 5, 4),
    ):  # fmt: skip
        network.arc(tail, head, room)
    assert minimum_cut(network, 0, 5) == (23, {0, 1, 2, 4})


@pytest.mark.parametrize("seed", range(60))
def test_closure_as_exhaustive_search(seed: int) -> None:
    rnd = random.Random(1000 + seed)
    count = 9
    worth = [rnd.randint(-10, 10) for _ in range(count)]
    needs = [{j for j in range(count) if j != i and rnd.random() < 0.15} for i in range(count)]
    best = max(
        sum(worth[i] for i in chosen)
        for size in range(count + 1)
        for chosen in map(set, itertools.combinations(range(count), size))
        if all(needs[i] <= chosen for i in chosen)
    )
    assert sum(worth[i] for i in closure(worth, needs)) == best


def can_be_done(chosen: set[int], problem: Problem) -> bool:
    done: set[int] = set()
    while True:
        more = {
            i
            for i in chosen - done
            if problem.needs[i] <= done and all(g & done for at, g in problem.groups if at == i)
        }
        if not more:
            return done == chosen
        done |= more


@pytest.mark.parametrize("seed", range(120))
def test_selection_with_alternatives_and_circles_as_exhaustive_search(seed: int) -> None:
    rnd = random.Random(2000 + seed)
    count = 9
    worth = tuple(rnd.randint(-10, 12) for _ in range(count))
    needs = tuple(frozenset(j for j in range(i) if rnd.random() < 0.15) for i in range(count))
    groups = tuple(
        (i, frozenset(rnd.sample([j for j in range(count) if j != i], rnd.randint(2, 3))))
        for i in range(count)
        if rnd.random() < 0.5
    )
    together = {0: frozenset({count - 1})} if rnd.random() < 0.3 else {}
    problem = Problem(worth=worth, needs=needs, groups=groups, together=together)
    best = max(
        sum(worth[i] for i in chosen)
        for size in range(count + 1)
        for chosen in map(set, itertools.combinations(range(count), size))
        if can_be_done(chosen, problem)
        and all(together.get(i, frozenset()) <= chosen for i in chosen)
    )
    found = select(problem)
    assert found.exact
    assert found.worth == best
    assert can_be_done(set(found.chosen), problem)


def by_solver(problem: Problem) -> int:
    """The best worth by CP-SAT, with a position for each thing to keep circles out."""
    cp = cp_model.CpModel()
    count = len(problem.worth)
    on = [cp.new_bool_var(f"on{i}") for i in range(count)]
    place = [cp.new_int_var(0, count, f"at{i}") for i in range(count)]
    for i, needs in enumerate(problem.needs):
        for j in needs:
            cp.add_implication(on[i], on[j])
            cp.add(place[j] < place[i]).only_enforce_if(on[i])
    for i, group in problem.groups:
        ways = []
        for j in sorted(group):
            way = cp.new_bool_var(f"way{i}_{j}")
            cp.add_implication(way, on[j])
            cp.add(place[j] < place[i]).only_enforce_if(way)
            ways.append(way)
        cp.add_bool_or([*ways, on[i].Not()])
    for i, others in problem.together.items():
        for j in others:
            cp.add_implication(on[i], on[j])
    for i in problem.forced:
        cp.add(on[i] == 1)
    cp.maximize(sum(w * v for w, v in zip(problem.worth, on, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(cp) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize("key", ["ardle-2000", "ardle-10000", "ardle-l750"])
@pytest.mark.parametrize("seed", [1, 2])
def test_selection_on_shipped_designs_as_constraint_solver(key: str, seed: int) -> None:
    design, rnd = shipped(key), random.Random(seed)
    lines = {
        part.key: PriceLine(number=part.key, price=rnd.randint(50, 6000)) for part in design.parts
    }
    prices = PriceList(currency="GBP", lines=lines, numbers={})
    risks = [
        PartRisk(part=part.key, probability=rnd.random() ** 4, why="")
        for part in design.parts
        if part.role != "hoist"
    ]
    policy = Policy(labour_per_hour=5500, call_back=18_000)
    problem = model(design, ["pawl"] if seed == 1 else [], risks, prices, policy).problem
    found = select(problem)
    assert found.exact
    assert found.worth == by_solver(problem)
