"""A design, its prices and risks as a selection problem: steps and parts that need each other."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping, Sequence

import attrs

from hoistwright.hoist.design import Design
from hoistwright.hoist.parts import Part
from hoistwright.hoist.take_apart import Step
from hoistwright.renew.policy import PartRisk, Policy
from hoistwright.renew.prices import PriceList
from hoistwright.renew.selection import Group, Problem
from hoistwright.strip.bits import members
from hoistwright.strip.graph import Graph, build
from hoistwright.strip.optimum import cheapest
from hoistwright.strip.plan import pieces_spent, with_companions


@attrs.frozen(eq=False, kw_only=True)
class Costs:
    """What everything costs, minor units. `unpriced` parts have no price and cannot be advised."""

    step: tuple[int, ...]
    part: Mapping[str, int]
    leaving: Mapping[str, int]
    """Expected cost of leaving each candidate: P · (call-back + its repair then)."""
    unpriced: tuple[str, ...]


@attrs.frozen(eq=False, kw_only=True)
class Model:
    """The problem; things 0 … steps − 1 are the steps of `graph`, then come `parts` in order."""

    graph: Graph
    parts: tuple[str, ...]
    problem: Problem
    costs: Costs


def model(
    design: Design,
    must: Sequence[str],
    risks: Sequence[PartRisk],
    prices: PriceList,
    policy: Policy,
    already: Iterable[str] = (),
) -> Model:
    """The selection problem of one hoist on the bench.

    worth(step) = −(labour both ways + its one-use pieces), 0 where it is done already;
    worth(part) = expected cost of leaving − price; a part needs its companions and one of the
    steps that free it; a step needs the steps before it.

    Args:
        design: with its take-apart graph.
        must: parts that must be renewed; their companions must too.
        risks: of the other parts; parts without one are not advised.
        prices: of the shop.
        policy: of the shop.
        already: keys of steps that are done or planned whatever is renewed.

    Returns:
        The model.

    Raises:
        ValueError: a part or step that the design does not have.

    References:
        shared fixed costs as a closure: Rhys 1970, from memory.
    """
    graph = build(design)
    _check(design, graph, must, risks, already)
    forced = with_companions(design, must)
    chance = {risk.part: risk.probability for risk in risks}
    parts = with_companions(design, [*must, *(key for key in chance if chance[key] > 0)])
    costs = _costs(design, graph, parts, chance, prices, policy, set(already))
    place = {key: len(graph.steps) + at for at, key in enumerate(parts)}
    worth = [-cost for cost in costs.step]
    worth += [_worth(key, forced, costs) for key in parts]
    needs = [frozenset(members(steps)) for steps in _sharpened(graph)]
    needs += [frozenset()] * len(parts)
    groups = [(at, frozenset(members(way))) for at, ways in enumerate(graph.groups) for way in ways]
    groups += _ways_to_parts(design, graph, place, forced, costs)
    together = {
        place[key]: frozenset(place[k] for k in with_companions(design, [key]) if k in place)
        for key in parts
    }
    musts = frozenset(place[key] for key in forced)
    problem = _single_ways(worth, needs, groups, together, musts)
    return Model(graph=graph, parts=parts, problem=problem, costs=costs)


def _ways_to_parts(
    design: Design,
    graph: Graph,
    place: Mapping[str, int],
    forced: tuple[str, ...],
    costs: Costs,
) -> list[Group]:
    """The steps that let each part be renewed; none for one that has no price to weigh."""
    found: list[Group] = []
    for key, at in place.items():
        demand = renewed_by(graph, key)
        if key not in forced and not _priced(design, key, costs):
            found.append((at, frozenset()))
        elif demand:
            found.append((at, frozenset(members(demand))))
    return found


def _single_ways(
    worth: list[int],
    needs: list[frozenset[int]],
    groups: list[Group],
    together: dict[int, frozenset[int]],
    forced: frozenset[int],
) -> Problem:
    """Groups of one are plain needs; what has an empty group can never be worth choosing."""
    left = []
    for at, group in groups:
        if len(group) == 1:
            needs[at] |= group
        elif not group:
            worth[at] = -(1 << 50)
        elif not group & needs[at]:
            left.append((at, group))
    return Problem(
        worth=tuple(worth),
        needs=tuple(needs),
        groups=tuple(left),
        together=together,
        forced=forced,
    )


@functools.lru_cache(maxsize=64)
def _sharpened(graph: Graph) -> tuple[int, ...]:
    """What each step needs, with what all its ways in have in common taken as needs too.

    Common to all ways: the greatest sets with M(x) = x ∪ M(needs) ∪ ∩ M(ways), as for the
    dominators of a flow graph.
    """
    places = range(len(graph.steps))
    common = [graph.all] * len(graph.steps)
    while True:
        found = [1 << at | _ahead(graph, at, common) for at in places]
        if found == common:
            return tuple(_ahead(graph, at, common, deep=False) for at in places)
        common = found


def _ahead(graph: Graph, at: int, common: Sequence[int], *, deep: bool = True) -> int:
    """What lies before a step whatever way is taken; not deep: its own needs as they stand."""
    mask = graph.after[at]
    if deep:
        for before in members(graph.after[at]):
            mask |= common[before]
    for group in graph.groups[at]:
        shared = graph.all
        for way in members(group):
            shared &= common[way]
        mask |= shared
    return mask


def renewed_by(graph: Graph, key: str) -> int:
    """The steps of which one makes it possible (or, for a one-use part, needful) to renew it."""
    return graph.demand(key) | _spenders(graph).get(key, 0)


@functools.lru_cache(maxsize=64)
def _spenders(graph: Graph) -> dict[str, int]:
    found: dict[str, int] = {}
    for at, step in enumerate(graph.steps):
        for key in step.consumes:
            found[key] = found.get(key, 0) | 1 << at
    return found


def _goes_with_steps(part: Part, graph: Graph) -> bool:
    """A one-use part is renewed whenever its step is done: its price stands with the step."""
    always = part.renewal == "always" and part.key in graph.frees
    return always or part.key in _spenders(graph)


def _worth(key: str, forced: tuple[str, ...], costs: Costs) -> int:
    return (0 if key in forced else costs.leaving[key]) - costs.part[key]


def _priced(design: Design, key: str, costs: Costs) -> bool:
    return not set(with_companions(design, [key])) & set(costs.unpriced)


def _costs(
    design: Design,
    graph: Graph,
    parts: tuple[str, ...],
    chance: Mapping[str, float],
    prices: PriceList,
    policy: Policy,
    already: set[str],
) -> Costs:
    lines = {part.key: part for part in design.parts}
    price: dict[str, int] = {}
    unpriced = []
    for key in parts:
        found = prices.price(key, lines[key].quantity)
        if found is None:
            unpriced.append(key)
        with_step = _goes_with_steps(lines[key], graph)
        price[key] = 0 if with_step else found or 0
    whole = tuple(step_cost(design, step, prices, policy) for step in graph.steps)
    leaving = {}
    for key in parts:
        steps = alone(graph, renewed_by(graph, key))
        then = policy.call_back + price[key] + sum(whole[at] for at in members(steps))
        leaving[key] = round(chance.get(key, 0.0) * then)
    here = tuple(
        0 if step.key in already else cost for step, cost in zip(graph.steps, whole, strict=True)
    )
    return Costs(step=here, part=price, leaving=leaving, unpriced=tuple(unpriced))


def step_seconds(step: Step) -> float:
    """Time of a step both ways, s: off, and back on."""
    back = step.minutes if step.refit.minutes is None else step.refit.minutes
    return float(step.minutes) + float(back)


def step_cost(design: Design, step: Step, prices: PriceList, policy: Policy) -> int:
    """Labour of a step both ways and the one-use pieces it spends, minor units."""
    spent = sum(
        prices.price(piece.part, piece.quantity) or 0 for piece in pieces_spent(design, step)
    )
    return policy.labour(step_seconds(step)) + spent


@functools.lru_cache(maxsize=4096)
def alone(graph: Graph, demand: int) -> int:
    """The steps of the cheapest strip to one part alone; the same for every job of a design."""
    return cheapest(graph, [demand], sides=False) if demand else 0


def _check(
    design: Design,
    graph: Graph,
    must: Sequence[str],
    risks: Sequence[PartRisk],
    already: Iterable[str],
) -> None:
    keys, steps = {part.key for part in design.parts}, {step.key for step in graph.steps}
    lost = [key for key in [*must, *(r.part for r in risks)] if key not in keys]
    lost += [key for key in already if key not in steps]
    if lost:
        raise ValueError(
            f"{', '.join(sorted(set(lost)))}: not in {design.key}; expected keys of its parts "
            "and steps. See the parts list and the take-apart graph."
        )
