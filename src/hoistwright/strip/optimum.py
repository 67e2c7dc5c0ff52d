"""The cheapest strip to a wish: exact, with alternatives.

Choosing the cheapest steps when a step may have several ways in is a minimum cost problem
on an AND/OR graph and as hard as set covering, but a hoist's graph is mostly AND: after
`kernel.py` little or nothing is left to choose. What is left is split into parts that do
not touch, and each is settled by branch and bound.
"""

from __future__ import annotations

from collections.abc import Sequence

from hoistwright.strip.bits import mask_of, members
from hoistwright.strip.bound import Ascent, ascend, primal
from hoistwright.strip.closure import (
    MOST_SOLVED,
    Closure,
    apart,
    certain,
    closure,
    kernel_of,
    whole,
)
from hoistwright.strip.few_ways import tried_through
from hoistwright.strip.graph import PIECE, Graph
from hoistwright.strip.kernel import ROOT, Kernel
from hoistwright.strip.loops import has_loop, search_with_loops

Solution = tuple[int, int]
"""Cost and the set of steps."""


def cheapest(graph: Graph, demands: Sequence[int], *, sides: bool = True) -> int:
    """The steps of the cheapest strip that meets every demand.

    minimise Σ cost(s) over sets S of steps that can be done in some order, with one step of
    each demand in S. Cheapest is: fewest minutes; then fewest one-use pieces; then fewest
    sides of the hoist opened; then fewest steps; then by the order of the keys.

    Args:
        graph: the take-apart graph.
        demands: sets of steps as bit masks; of each at least one step is to be done.
        sides: weigh the sides opened between equals.

    Returns:
        The set of steps as a bit mask; 0 where nothing is demanded.

    Range: exact for every graph; quick where the choices are few or local.

    Errors:
        ValueError: a demand that no order of steps can meet.

    References:
        Branch and bound with reductions as for set covering (Balas & Ho 1980, from memory).

    >>> from hoistwright.hoist.take_apart import Step
    >>> from hoistwright.quantity import Duration
    >>> from hoistwright.strip.graph import graph_of
    >>> steps = [Step(key="cover", name="cover off", minutes=Duration(120)),
    ...          Step(key="body", name="open the body", minutes=Duration(900)),
    ...          Step(key="out", name="chain out", minutes=Duration(60),
    ...               after_any=(("cover", "body"),))]
    >>> graph = graph_of(steps)
    >>> [graph.steps[at].key for at in members(cheapest(graph, [0b100]))]
    ['cover', 'out']
    """
    found = _solve(graph, demands, graph.all)
    if found is None:
        raise ValueError(
            "demands: no order of steps meets them all; expected at least one step of each "
            "demand that can be reached. Check the graph with take_apart_faults."
        )
    return _fewest_sides(graph, demands, found, graph.all)[1] if sides else found[1]


def _solve(graph: Graph, demands: Sequence[int], allowed: int) -> Solution | None:
    if 0 in demands:
        return None
    known = closure(graph)
    if allowed == graph.all and known.learn(demands):
        return _with_closure(graph, known, demands)
    reachable = graph.reachable(allowed)
    wanted = {demand & reachable for demand in demands}
    if 0 in wanted:
        return None
    kernel = whole(graph, reachable)
    kernel.groups[ROOT] = wanted
    return search_with_loops(kernel) if has_loop(kernel) else _settle(kernel, None)


def _with_closure(graph: Graph, known: Closure, demands: Sequence[int]) -> Solution:
    """What is certain, and for each choice apart from the others its optimum."""
    chosen, choices = certain(known, demands)
    spent, sure = graph.total(chosen), chosen
    for part in apart(known, choices, sure):
        if part not in known.solved:
            found = tried_through(known, part) or _settle(kernel_of(known, part), None)
            if found is None:
                raise AssertionError("a graph without circles always has a way")
            if len(known.solved) >= MOST_SOLVED:
                known.solved.clear()
            known.solved[part] = found
        cost, steps = known.solved[part]
        spent, chosen = spent + cost, chosen | steps
    return spent, chosen


def _settle(kernel: Kernel, budget: int | None) -> Solution | None:
    """The best solution that costs less than `budget` (any, without one)."""
    kernel.reduce()
    if kernel.impossible or (budget is not None and kernel.spent >= budget):
        return None
    if not kernel.open:
        return kernel.spent, kernel.chosen
    parts = _components(kernel)
    if len(parts) == 1:
        return _bounded(kernel, budget)
    return _settle_apart(kernel, parts, budget)


def _settle_apart(kernel: Kernel, parts: list[Kernel], budget: int | None) -> Solution | None:
    """Parts that do not touch: the sum of their optima."""
    bounds = [ascend(part).least for part in parts]
    rest = sum(bounds)
    spent, chosen = kernel.spent, kernel.chosen
    for part, bound in sorted(zip(parts, bounds, strict=True), key=lambda pair: pair[1]):
        rest -= bound
        found = _settle(part, None if budget is None else budget - spent - rest)
        if found is None:
            return None
        spent, chosen = spent + found[0], chosen | found[1]
    return spent, chosen


def _bounded(kernel: Kernel, budget: int | None) -> Solution | None:
    """Bound from both ends; leave out the steps that no better solution can have; branch."""
    bound = ascend(kernel)
    least = kernel.spent + bound.least
    if budget is not None and least >= budget:
        return None
    found = primal(kernel, bound.free)
    best = found if budget is None or found[0] < budget else None
    budget = found[0] if best is not None or budget is None else budget
    if budget == least:
        return best
    hopeless = mask_of(at for at in kernel.cost if least + _rest(kernel, bound, at) >= budget)
    if not hopeless:
        return _branch(kernel, budget) or best
    kernel.forbid(hopeless)
    return _settle(kernel, budget) or best


def _rest(kernel: Kernel, bound: Ascent, at: int) -> int:
    """What a solution with step `at` costs at least beyond the bound."""
    return sum(bound.left[step] for step in members(kernel.must[at]))


def _branch(kernel: Kernel, budget: int) -> Solution | None:
    """One choice: each of its ways in turn, those already tried left out."""
    best: Solution | None = None
    rest = kernel.copy()
    group = _hardest(kernel)
    for at in sorted(members(group), key=lambda way: (_marginal(kernel, way), way)):
        if rest.impossible or at not in rest.cost:
            continue
        tried = rest.copy()
        tried.require(at)
        found = _settle(tried, budget)
        if found is not None:
            best, budget = found, found[0]
        rest.forbid(1 << at)
    return best


def _hardest(kernel: Kernel) -> int:
    """The choice with the fewest ways, among those the one that costs most at least."""
    return min(
        kernel.open,
        key=lambda group: (
            group.bit_count(),
            -min(_marginal(kernel, at) for at in members(group)),
            group,
        ),
    )


def _marginal(kernel: Kernel, at: int) -> int:
    return sum(kernel.cost[step] for step in members(kernel.must[at]))


def _components(kernel: Kernel) -> list[Kernel]:
    """The kernel cut into parts whose choices have no step in common."""
    sets: list[tuple[int, set[int]]] = []
    for group in sorted(kernel.open):
        reach, groups = _reach(kernel, group), {group}
        apart = []
        for other, others in sets:
            if other & reach:
                reach, groups = reach | other, groups | others
            else:
                apart.append((other, others))
        sets = [*apart, (reach, groups)]
    if len(sets) == 1:
        return [kernel]
    return [_part(kernel, reach, groups) for reach, groups in sets]


def _reach(kernel: Kernel, mask: int) -> int:
    seen, todo = 0, mask
    while todo:
        seen |= todo
        found = 0
        for at in members(todo):
            found |= kernel.after[at]
            for group in kernel.groups[at]:
                found |= group
        todo = found & ~seen
    return seen


def _part(kernel: Kernel, reach: int, groups: set[int]) -> Kernel:
    part = Kernel()
    for at in members(reach):
        part.after[at] = kernel.after[at]
        part.groups[at] = set(kernel.groups[at])
        part.cost[at] = kernel.cost[at]
        part.whole[at] = kernel.whole[at]
        part.must[at] = kernel.must[at]
    part.after[ROOT] = 0
    part.groups[ROOT] = groups
    return part


def _fewest_sides(graph: Graph, demands: Sequence[int], found: Solution, allowed: int) -> Solution:
    """Of the equally cheap, one that opens the fewest sides of the hoist.

    A solution with fewer sides does without one of the sides of `found`: each is shut in
    turn. The mandatory steps soon leave nothing to shut.
    """
    best = found
    for shut in _by_side(graph, found[1]):
        other = _solve(graph, demands, allowed & ~shut)
        if other is not None and other[0] // PIECE == found[0] // PIECE:
            within = _fewest_sides(graph, demands, other, allowed & ~shut)
            best = min(best, within, key=lambda one: (len(_by_side(graph, one[1])), one[0]))
    return best


def _by_side(graph: Graph, chosen: int) -> list[int]:
    """For each side that `chosen` works on, all steps of the graph on that side."""
    masks: dict[str, int] = {}
    for at, step in enumerate(graph.steps):
        masks[step.side] = masks.get(step.side, 0) | 1 << at
    return [mask for _, mask in sorted(masks.items()) if mask & chosen]
