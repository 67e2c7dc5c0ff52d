"""What each step cannot do without, worked out once for a graph and used by every plan."""

from __future__ import annotations

import functools
from collections.abc import Mapping, Sequence

import attrs

from hoistwright.strip.bits import is_single, members
from hoistwright.strip.graph import Graph
from hoistwright.strip.kernel import ROOT, Kernel, minimal
from hoistwright.strip.loops import has_loop


@attrs.frozen(eq=False)
class Closure:
    """`must[x]`: x and the steps that every way to x has. `choices[x]`: the sets of steps
    of which x needs one and that `must[x]` does not meet. `behind[x]`: x and all that may
    have a part in reaching it. `groups`, `after`: the conditions of each single step,
    sharpened. `solved`: choices that an earlier plan has settled.
    """

    must: dict[int, int]
    choices: dict[int, frozenset[int]]
    after: dict[int, int]
    groups: dict[int, frozenset[int]]
    behind: dict[int, int]
    solved: dict[tuple[frozenset[int], int], tuple[int, int]]


MOST_SOLVED = 10_000
"""So many settled choices are kept for a graph."""


@functools.lru_cache(maxsize=64)
def closure(graph: Graph) -> Closure | None:
    """The closure of a graph; None where its ways run in a circle or lead nowhere."""
    if any(0 in groups for groups in graph.groups):
        return None
    kernel = whole(graph, graph.all)
    if has_loop(kernel):
        return None
    kernel.tighten()
    groups = {at: frozenset(found) for at, found in kernel.groups.items()}
    choices: dict[int, frozenset[int]] = {}
    behind: dict[int, int] = {}
    for at, must in kernel.must.items():  # each after all that it may need
        found = set(groups[at])
        reach = 1 << at
        for step in members(kernel.after[at]):
            found |= choices[step]
            reach |= behind[step]
        for group in groups[at]:
            reach |= union_of(behind, group)
        choices[at] = frozenset(group for group in found if not group & must)
        behind[at] = reach
    return Closure(kernel.must, choices, kernel.after, groups, behind, {})


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
                shared = _shared(group, must) & ~chosen
                for at in members(shared):
                    found |= known.choices[at]
                chosen |= shared
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


def _shared(group: int, must: dict[int, int]) -> int:
    """What every member of the group must have."""
    common = -1
    for at in members(group):
        common &= must[at]
    return common
