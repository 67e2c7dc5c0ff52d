"""What each step cannot do without, worked out once for a graph and used by every plan."""

from __future__ import annotations

import functools
from collections.abc import Sequence

import attrs

from hoistwright.strip.bits import is_single, members
from hoistwright.strip.graph import Graph
from hoistwright.strip.kernel import ROOT, Kernel, minimal
from hoistwright.strip.loops import has_loop


@attrs.frozen(eq=False)
class Closure:
    """`must[x]`: x and the steps that every way to x has. `choices[x]`: the sets of steps
    of which x needs one and that `must[x]` does not meet. `groups`, `after`: the conditions
    of each single step, sharpened.
    """

    must: dict[int, int]
    choices: dict[int, frozenset[int]]
    after: dict[int, int]
    groups: dict[int, frozenset[int]]


@functools.lru_cache(maxsize=64)
def closure(graph: Graph) -> Closure | None:
    """The closure of a graph; None where its ways run in a circle or lead nowhere."""
    if any(0 in groups for groups in graph.groups):
        return None
    kernel = whole(graph, graph.all)
    if has_loop(kernel):
        return None
    kernel.tighten()
    choices: dict[int, frozenset[int]] = {}
    for at in kernel.must:
        found = set(kernel.groups[at])
        for step in members(kernel.after[at]):
            found |= choices[step]
        choices[at] = frozenset(group for group in found if not group & kernel.must[at])
    groups = {at: frozenset(found) for at, found in kernel.groups.items()}
    return Closure(kernel.must, choices, kernel.after, groups)


def whole(graph: Graph, allowed: int) -> Kernel:
    """All allowed steps of a graph as a kernel whose wish is any one of them."""
    kernel = Kernel()
    for at in members(allowed):
        kernel.after[at] = graph.after[at]
        kernel.groups[at] = {group & allowed for group in graph.groups[at]}
        kernel.cost[at] = graph.cost[at]
        kernel.whole[at] = 1 << at
    kernel.after[ROOT] = 0
    kernel.groups[ROOT] = {allowed} if allowed else set()
    return kernel


def kernel_of(graph: Graph, known: Closure, demands: Sequence[int]) -> Kernel:
    """The problem with all that is certain done, and only the choices that are left."""
    chosen, choices = _certain(known, demands)
    kernel = Kernel()
    kernel.chosen, kernel.spent = chosen, graph.total(chosen)
    kernel.after[ROOT], kernel.groups[ROOT] = 0, choices
    todo, seen, keep = 0, 0, ~chosen
    for group in choices:
        todo |= group
    while todo:
        at = (todo & -todo).bit_length() - 1
        kernel.cost[at], kernel.whole[at] = graph.cost[at], 1 << at
        kernel.after[at] = after = known.after[at] & keep
        kernel.groups[at] = groups = {g for g in known.groups[at] if not g & chosen}
        seen |= 1 << at
        todo |= after
        for group in groups:
            todo |= group
        todo &= ~seen
    return kernel


def _certain(known: Closure, demands: Sequence[int]) -> tuple[int, set[int]]:
    """The steps that every solution has, and the choices they leave open."""
    must, chosen = known.must, 0
    choices: set[int] = set()
    fresh = {minimal(demand, must) for demand in demands}
    while fresh:
        sure = 0
        for group in fresh:
            sure |= _shared(group, must)
        choices |= {group for group in fresh if not is_single(group)}
        fresh = set()
        for at in members(sure & ~chosen):
            fresh |= known.groups[at]
        chosen |= sure
        fresh = {group for group in fresh - choices if not group & chosen}
    return chosen, {group for group in choices if not group & chosen}


def _shared(group: int, must: dict[int, int]) -> int:
    """What every member of the group must have."""
    common = -1
    for at in members(group):
        common &= must[at]
    return common
