"""What each step cannot do without, worked out once for a graph and used by every plan."""

from __future__ import annotations

import functools
from collections.abc import Mapping, Sequence

import attrs

from hoistwright.strip.bits import is_single, members
from hoistwright.strip.graph import Graph
from hoistwright.strip.kernel import ROOT, Kernel
from hoistwright.strip.sharpen import minimal, shared, sharpened, union

MOST_SOLVED = 10_000
"""So many settled choices are kept for a graph."""


@attrs.define(eq=False)
class Closure:
    """`must[x]`: x and the steps that every way to x has. `choices[x]`: the sets of steps
    of which x needs one and that `must[x]` does not meet. `behind[x]`: x and all that may
    have a part in reaching it. `groups`, `after`: the conditions of each single step,
    sharpened. `solved`: choices that an earlier plan has settled.

    It grows: only the steps that some wish has asked about are in it.
    """

    graph: Graph
    must: dict[int, int] = attrs.Factory(dict)
    choices: dict[int, frozenset[int]] = attrs.Factory(dict)
    after: dict[int, int] = attrs.Factory(dict)
    groups: dict[int, frozenset[int]] = attrs.Factory(dict)
    behind: dict[int, int] = attrs.Factory(dict)
    solved: dict[tuple[frozenset[int], int], tuple[int, int]] = attrs.Factory(dict)

    def learn(self, demands: Sequence[int]) -> bool:
        """Take in all that the demands ask about; False where ways run in a circle there, or
        where a step waits for nothing there is.
        """
        on_path: set[int] = set()
        stack = [(-1, list(members(union(demands))))]
        while stack:
            at, rest = stack[-1]
            while rest and rest[-1] in self.must:
                rest.pop()
            if not rest:
                stack.pop()
                on_path.discard(at)
                if at >= 0:
                    self._add(at)
                continue
            child = rest.pop()
            if child in on_path or 0 in self.graph.groups[child]:
                return False
            on_path.add(child)
            asked = self.graph.after[child] | union(self.graph.groups[child])
            stack.append((child, list(members(asked))))
        return True

    def _add(self, at: int) -> None:
        """Work a step out; all that it may need is known."""
        after, groups, needs = sharpened(self.graph.after[at], self.graph.groups[at], self.must)
        must = needs | 1 << at
        found, reach = set(groups), 1 << at
        for step in members(after):
            found |= self.choices[step]
            reach |= self.behind[step]
        for group in groups:
            reach |= union_of(self.behind, group)
        self.after[at], self.groups[at], self.must[at] = after, frozenset(groups), must
        self.choices[at] = frozenset(group for group in found if not group & must)
        self.behind[at] = reach


@functools.lru_cache(maxsize=64)
def closure(graph: Graph) -> Closure:
    """The closure of a graph, as far as it has been asked about."""
    return Closure(graph)


def union_of(sets: Mapping[int, int], mask: int) -> int:
    """The union of the sets of all members of `mask`."""
    union = 0
    while mask:
        low = mask & -mask
        union |= sets[low.bit_length() - 1]
        mask ^= low
    return union


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


def kernel_of(graph: Graph, known: Closure, choices: frozenset[int], reach: int) -> Kernel:
    """Choices that are left, as a problem of its own among the steps of `reach`."""
    kernel = Kernel()
    kernel.after[ROOT], kernel.groups[ROOT] = 0, set(choices)
    for at in members(reach):
        kernel.cost[at], kernel.whole[at] = graph.cost[at], 1 << at
        kernel.after[at] = known.after[at] & reach
        kernel.groups[at] = {g for g in known.groups[at] if g & reach == g}
    return kernel


def certain(known: Closure, demands: Sequence[int]) -> tuple[int, set[int]]:
    """The steps that every solution has, and the choices they leave open."""
    must, chosen = known.must, 0
    choices: set[int] = set()
    fresh = {demand if is_single(demand) else minimal(demand, must) for demand in demands}
    while fresh:
        found: set[int] = set()
        for group in fresh:
            if is_single(group):
                at = group.bit_length() - 1
                chosen |= must[at]
                found |= known.choices[at]
            else:
                choices.add(group)
                common = shared(group, must) & ~chosen
                for at in members(common):
                    found |= known.choices[at]
                chosen |= common
        fresh = {group for group in found - choices if not group & chosen}
    return chosen, {group for group in choices if not group & chosen}


def apart(known: Closure, choices: set[int], chosen: int) -> list[tuple[frozenset[int], int]]:
    """The choices in parts that have no step in common, each with the steps behind it."""
    parts: list[tuple[frozenset[int], int]] = []
    for choice in sorted(choices):
        groups, reach = frozenset((choice,)), union_of(known.behind, choice) & ~chosen
        rest = []
        for part in parts:
            if part[1] & reach:
                groups, reach = groups | part[0], reach | part[1]
            else:
                rest.append(part)
        parts = [*rest, (groups, reach)]
    return parts
