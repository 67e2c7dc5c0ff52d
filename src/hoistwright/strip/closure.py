"""What each step cannot do without: worked out as far as a wish asks, and kept for the next."""

from __future__ import annotations

import functools
from collections.abc import Sequence

import attrs

from hoistwright.strip.bits import is_single, members
from hoistwright.strip.graph import Graph
from hoistwright.strip.kernel import ROOT, Kernel

MOST_SOLVED = 10_000
"""So many settled choices are kept for a graph."""

Part = tuple[frozenset[int], int]
"""Choices that have steps in common, and all steps behind them that are not certain."""


@attrs.define(eq=False)
class Closure:
    """`must[x]`: x and the steps that every way to x has; 0 where nobody has asked yet.
    `choices`: for each step (as a bit) that leaves a choice, the sets of steps of which it
    needs one and that its own must does not meet. `solved`: choices that an earlier plan has
    settled.
    """

    graph: Graph
    must: list[int] = attrs.field(init=False)
    choices: dict[int, tuple[int, ...]] = attrs.Factory(dict)
    solved: dict[Part, tuple[int, int]] = attrs.Factory(dict)

    def __attrs_post_init__(self) -> None:
        self.must = [0] * len(self.graph.steps)

    def learn(self, demands: Sequence[int]) -> bool:
        """Take in all that the demands ask about; False where ways run in a circle there, or
        where a step waits for nothing there is.

        A walk to the depths; a place below zero on the stack is that of a step to be left again.
        """
        steps, place, must = self.graph.steps, self.graph.place, self.must
        on_path = bytearray(len(steps))
        stack = [at for demand in demands for at in members(demand)]
        while stack:
            at = stack.pop()
            if at < 0:
                self._add(~at)
            elif not must[at]:
                if on_path[at]:
                    return False
                on_path[at] = 1
                stack.append(~at)
                step = steps[at]
                stack.extend(map(place.__getitem__, step.after))
                for group in step.after_any:
                    if not group:
                        return False
                    stack.extend(map(place.__getitem__, group))
        return True

    def _add(self, at: int) -> None:
        """Work a step out; all that it may need is known.

        must(x) = x and must of all it needs, and for each group what all its members must.

        References:
            Dominators of flow graphs, carried over to AND/OR graphs ("landmarks" in
            planning), from memory.
        """
        step, place, must = self.graph.steps[at], self.graph.place, self.must
        needs = 1 << at
        for key in step.after:
            needs |= must[place[key]]
        groups = []
        for keys in step.after_any:
            common, group = -1, 0
            for key in keys:
                way = place[key]
                common &= must[way]
                group |= 1 << way
            needs |= common
            groups.append(group)
        must[at] = needs
        left = tuple(group for group in groups if not group & needs)
        if left:
            self.choices[1 << at] = left

    def union(self, group: int) -> int:
        """What any member of the group must have, taken together."""
        must, mask = self.must, 0
        for at in members(group):
            mask |= must[at]
        return mask

    def opened(self, fresh: int, done: int) -> set[int]:
        """The choices that the steps of `fresh` bring and that `done` does not meet."""
        return {
            group
            for step, groups in self.choices.items()
            if step & fresh
            for group in groups
            if not group & done
        }


@functools.lru_cache(maxsize=64)
def closure(graph: Graph) -> Closure:
    """The closure of a graph, as far as it has been asked about."""
    return Closure(graph)


def certain(known: Closure, demands: Sequence[int]) -> tuple[int, set[int]]:
    """The steps that every solution has, and the choices they leave open."""
    chosen, choices = 0, set()
    for demand in demands:
        common = -1
        for at in members(demand):
            common &= known.must[at]
        chosen |= common
        if not is_single(demand):
            choices.add(demand)
    choices |= known.opened(chosen, chosen)
    return chosen, {group for group in choices if not group & chosen}


def apart(known: Closure, choices: set[int], chosen: int) -> list[Part]:
    """The choices in parts that have no step in common, each with the steps behind it."""
    parts: list[Part] = []
    for choice in sorted(choices):
        groups, reach = frozenset((choice,)), _behind(known, choice, chosen)
        rest = []
        for part in parts:
            if part[1] & reach:
                groups, reach = groups | part[0], reach | part[1]
            else:
                rest.append(part)
        parts = [*rest, (groups, reach)]
    return parts


def _behind(known: Closure, choice: int, chosen: int) -> int:
    """All that may have a part in meeting a choice, but for what is certain."""
    reach, fresh = 0, known.union(choice) & ~chosen
    while fresh:
        reach |= fresh
        found = 0
        for group in known.opened(fresh, chosen):
            found |= known.union(group)
        fresh = found & ~chosen & ~reach
    return reach


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


def kernel_of(known: Closure, part: Part) -> Kernel:
    """Choices that are left, as a problem of its own among the steps behind them.

    A step's needs are all it must have: a group may be met by what its own ways must have, and
    is then in no choice. One that reaches out of these steps is met there, by what is certain.
    """
    choices, reach = part
    kernel = Kernel()
    kernel.after[ROOT], kernel.groups[ROOT] = 0, set(choices)
    for at in members(reach):
        kernel.cost[at], kernel.whole[at] = known.graph.cost_at(at), 1 << at
        kernel.after[at] = known.must[at] & reach & ~(1 << at)
        own = known.choices.get(1 << at, ())
        kernel.groups[at] = {group for group in own if group & reach == group}
    return kernel
