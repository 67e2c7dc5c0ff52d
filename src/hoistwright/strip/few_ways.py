"""Choices that are soon tried through: every way in turn, the cheapest first.

What is left of a hoist's graph is mostly a handful of choices with two ways each. To try them
costs less than to reduce the problem first (`kernel.py`), which is for the others.
"""

from __future__ import annotations

from hoistwright.strip.bits import members
from hoistwright.strip.closure import Closure, Part

MOST_TRIES = 60
"""After so many steps into the tree a problem counts as not small."""


def tried_through(known: Closure, part: Part) -> tuple[int, int] | None:
    """The optimum of choices that have few ways; None where there are too many to try.

    Args:
        known: the closure; all steps behind the part are in it.
        part: choices, and the steps behind them that are not certain.

    Returns:
        Cost and steps of the optimum, by depth-first branch and bound.

    References:
        Branch and bound, Land & Doig 1960, from memory.
    """
    search = _Search(known, part[1])
    search.visit(set(part[0]), 0, 0)
    return None if search.tries > MOST_TRIES else search.best


class _Search:
    def __init__(self, known: Closure, reach: int) -> None:
        self.known = known
        self.reach = reach
        self.tries = 0
        self.best: tuple[int, int] | None = None

    def visit(self, choices: set[int], done: int, spent: int) -> None:
        """Settle the choice with the fewest ways, then what that leaves open."""
        self.tries += 1
        if self.tries > MOST_TRIES:
            return
        choice = min(choices, key=lambda group: (group.bit_count(), group))
        for cost, at, fresh in sorted(self._ways(choice, done)):
            if self.best is not None and spent + cost >= self.best[0]:
                return
            now = done | fresh
            left = {group for group in choices if not group >> at & 1 and not group & now}
            left |= {g for g in self.known.opened(fresh, now) if g & self.reach == g}
            if left:
                self.visit(left, now, spent + cost)
            else:
                self.best = spent + cost, now

    def _ways(self, choice: int, done: int) -> list[tuple[int, int, int]]:
        """For each way its further cost, its place and the further steps it takes; a way that
        cannot do without another way of the same choice is none of its own.
        """
        must, graph, open_steps = self.known.must, self.known.graph, self.reach & ~done
        ways = []
        for at in members(choice):
            if not must[at] & choice & ~(1 << at):
                fresh = must[at] & open_steps
                ways.append((graph.total(fresh), at, fresh))
        return ways
