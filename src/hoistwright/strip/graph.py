"""The take-apart graph of a design as the planner uses it: steps as bits, checked first."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping, Sequence
from typing import Literal

import attrs

from hoistwright.faults import FaultsError
from hoistwright.hoist.design import Design
from hoistwright.hoist.parts import Part
from hoistwright.hoist.take_apart import Step
from hoistwright.strip.bits import mask_of, members
from hoistwright.strip.graph_faults import take_apart_faults

Purpose = Literal["take off", "look at"]

PIECE = 1 << 20
"""Weight of one one-use piece against one step, in the whole-number cost of a step."""
MILLISECOND = 1 << 40
"""Weight of a millisecond against one step: minutes decide, then pieces, then steps."""


@attrs.frozen(eq=False)
class Graph:
    """Steps in order of their key (so that a plan does not hang on the order in the file).

    `after`, `groups`, `frees` and `shows` hold sets of steps as bit masks; `cost` is a
    whole number that orders by minutes, then one-use pieces, then number of steps.
    """

    steps: tuple[Step, ...]
    after: tuple[int, ...]
    groups: tuple[tuple[int, ...], ...]
    cost: tuple[int, ...]
    frees: Mapping[str, int]
    shows: Mapping[str, int]
    written: tuple[int, ...]
    """Place of each step in the design file: the order a fitter wrote it in."""

    @property
    def all(self) -> int:
        """Every step."""
        return (1 << len(self.steps)) - 1

    def demand(self, part: str, purpose: Purpose = "take off") -> int:
        """The steps of which one is enough to have `part` off (or in sight)."""
        mask = self.frees.get(part, 0)
        return mask | self.shows.get(part, 0) if purpose == "look at" else mask

    def total(self, chosen: int) -> int:
        """The whole-number cost of a set of steps."""
        return sum(self.cost[at] for at in members(chosen))

    def reachable(self, allowed: int) -> int:
        """The steps that can be done when only `allowed` ones may be done."""
        done = 0
        waiting = list(members(allowed))
        while True:
            left = [at for at in waiting if not self.ready(at, done)]
            done |= mask_of(set(waiting) - set(left))
            if len(left) == len(waiting):
                return done
            waiting = left

    def behind(self, demands: Iterable[int]) -> int:
        """The steps that may have a part in meeting the demands."""
        seen, todo = 0, 0
        for demand in demands:
            todo |= demand
        while todo:
            seen |= todo
            found = 0
            for at in members(todo):
                found |= self.after[at]
                for group in self.groups[at]:
                    found |= group
            todo = found & ~seen
        return seen

    def ready(self, at: int, done: int) -> bool:
        """May step `at` be done once the steps of `done` are?"""
        return not self.after[at] & ~done and all(group & done for group in self.groups[at])


def graph_of(steps: Sequence[Step], parts: Iterable[Part] = ()) -> Graph:
    """The graph of these steps. Names must agree; `build` checks that first.

    Args:
        steps: the steps of a design, any order.
        parts: the parts list; it says how many pieces a one-use line has (1 where it is silent).
    """
    lines = tuple(parts)
    quantity = {part.key: part.quantity for part in lines}
    one_use = {part.key for part in lines if part.renewal == "always"}
    ordered = sorted(steps, key=lambda step: step.key)
    place = {step.key: at for at, step in enumerate(ordered)}
    written = {step.key: at for at, step in enumerate(steps)}
    return Graph(
        steps=tuple(ordered),
        after=tuple(mask_of(place[key] for key in step.after) for step in ordered),
        groups=tuple(_groups(step, place) for step in ordered),
        cost=tuple(_cost(step, quantity, one_use) for step in ordered),
        frees=_by_part(step.frees for step in ordered),
        shows=_by_part(step.shows for step in ordered),
        written=tuple(written[step.key] for step in ordered),
    )


@functools.lru_cache(maxsize=64)
def build(design: Design) -> Graph:
    """The graph of a design.

    Errors:
        FaultsError: everything that is wrong with the graph, at once.
    """
    faults = take_apart_faults(design)
    if faults:
        raise FaultsError(faults)
    return graph_of(design.take_apart, design.parts)


def _groups(step: Step, place: Mapping[str, int]) -> tuple[int, ...]:
    return tuple(mask_of(place[key] for key in group) for group in step.after_any)


def _cost(step: Step, quantity: Mapping[str, int], one_use: set[str]) -> int:
    spent = sum(quantity.get(key, 1) for key in {*step.consumes, *(one_use & {*step.frees})})
    return round(step.minutes * 1000) * MILLISECOND + spent * PIECE + 1


def _by_part(lists: Iterable[tuple[str, ...]]) -> dict[str, int]:
    found: dict[str, int] = {}
    for at, keys in enumerate(lists):
        for key in keys:
            found[key] = found.get(key, 0) | 1 << at
    return found
