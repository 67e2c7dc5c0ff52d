"""The take-apart graph of a design as the planner uses it: steps as bits, checked first."""

from __future__ import annotations

import functools
import operator
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Literal

import attrs

from hoistwright.faults import FaultsError
from hoistwright.hoist.design import Design
from hoistwright.hoist.parts import Part
from hoistwright.hoist.take_apart import Step
from hoistwright.strip.bits import mask_of, members
from hoistwright.strip.graph_faults import step_faults, take_apart_faults

Purpose = Literal["take off", "look at"]

PIECE = 1 << 20
"""Weight of one one-use piece against one step, in the whole-number cost of a step."""
MILLISECOND = 1 << 40
"""Weight of a millisecond against one step: minutes decide, then pieces, then steps."""


@attrs.frozen(eq=False)
class Graph:
    """Steps in order of their key (so that a plan does not hang on the order in the file).

    Sets of steps are bit masks. What follows from the steps is worked out when it is first
    asked for: a single plan needs little of it.
    """

    steps: tuple[Step, ...]
    one_use: frozenset[str]
    quantity: Mapping[str, int]
    """Pieces of each part; 1 where it is silent."""
    in_file: tuple[str, ...]
    """Keys in the order of the design file."""

    @property
    def all(self) -> int:
        """Every step."""
        return (1 << len(self.steps)) - 1

    @functools.cached_property
    def place(self) -> dict[str, int]:
        """Place of each step in `steps`, by its key."""
        return {step.key: at for at, step in enumerate(self.steps)}

    @functools.cached_property
    def after(self) -> tuple[int, ...]:
        """For each step, the steps that must all be done before."""
        return tuple(self._mask(step.after) for step in self.steps)

    @functools.cached_property
    def groups(self) -> tuple[tuple[int, ...], ...]:
        """For each step, the sets of which one step must be done before."""
        return tuple(tuple(map(self._mask, step.after_any)) for step in self.steps)

    @functools.cached_property
    def cost(self) -> tuple[int, ...]:
        """Whole numbers that order by minutes, then one-use pieces, then number of steps."""
        return tuple(map(self.cost_at, range(len(self.steps))))

    @functools.cached_property
    def frees(self) -> Mapping[str, int]:
        """For each part, the steps after which it is off."""
        return self._by_part(lambda step: step.frees)

    @functools.cached_property
    def shows(self) -> Mapping[str, int]:
        """For each part, the steps after which it can be looked at."""
        return self._by_part(lambda step: step.shows)

    @functools.cached_property
    def written(self) -> tuple[int, ...]:
        """Place of each step in the design file: the order a fitter wrote it in."""
        place = {key: at for at, key in enumerate(self.in_file)}
        return tuple(place[step.key] for step in self.steps)

    @functools.cached_property
    def _costs(self) -> list[int]:
        return [0] * len(self.steps)

    def cost_at(self, at: int) -> int:
        """The whole-number cost of the step at this place."""
        cost = self._costs[at]
        if not cost:
            self._costs[at] = cost = self._cost_of(self.steps[at])
        return cost

    def _cost_of(self, step: Step) -> int:
        cost = round(step.minutes * 1000) * MILLISECOND + 1
        if step.consumes or not self.one_use.isdisjoint(step.frees):
            spent = self.one_use.intersection(step.frees).union(step.consumes)
            cost += PIECE * sum(self.quantity.get(key, 1) for key in spent)
        return cost

    def _mask(self, keys: Iterable[str]) -> int:
        return mask_of(map(self.place.__getitem__, keys))

    def _by_part(self, keys_of: Callable[[Step], tuple[str, ...]]) -> dict[str, int]:
        found: dict[str, int] = {}
        for at, step in enumerate(self.steps):
            for key in keys_of(step):
                found[key] = found.get(key, 0) | 1 << at
        return found

    def demand(self, part: str, purpose: Purpose = "take off") -> int:
        """The steps of which one is enough to have `part` off (or in sight)."""
        mask = self.frees.get(part, 0)
        return mask | self.shows.get(part, 0) if purpose == "look at" else mask

    def total(self, chosen: int) -> int:
        """The whole-number cost of a set of steps."""
        return sum(map(self.cost_at, members(chosen)))

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
    return Graph(
        steps=tuple(sorted(steps, key=operator.attrgetter("key"))),
        one_use=frozenset(part.key for part in lines if part.renewal == "always"),
        quantity={part.key: part.quantity for part in lines},
        in_file=tuple(step.key for step in steps),
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
    return build_known(design)


@functools.lru_cache(maxsize=64)
def build_known(design: Design) -> Graph:
    """The graph of a design that may lack steps for some of its parts.

    Errors:
        FaultsError: everything that is wrong with the steps there are.
    """
    faults = step_faults(design)
    if faults:
        raise FaultsError(faults)
    return graph_of(design.take_apart, design.parts)
