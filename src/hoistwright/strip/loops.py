"""Strip problems in which the ways in lead round in a circle.

"The left plate comes off once the right one or the cover is off; the right one once the left
one or the case is off" is no fault: it can be begun at either end. But the two must not
vouch for each other. The search below chooses as if they might, and where a choice cannot be
put in order it adds the condition that is broken: of the stuck steps one must be reached
from outside (a loop formula).
"""

from __future__ import annotations

from hoistwright.strip.bits import members
from hoistwright.strip.kernel import ROOT, Kernel


def has_loop(kernel: Kernel) -> bool:
    """Do the needs and ways of the steps in question run in a circle?"""
    state: dict[int, int] = {}
    return any(_circle_from(kernel, start, state) for start in _members_of(kernel, ROOT))


def _circle_from(kernel: Kernel, start: int, state: dict[int, int]) -> bool:
    if start in state:
        return False
    state[start] = 1
    stack = [(start, _members_of(kernel, start))]
    while stack:
        at, rest = stack[-1]
        if not rest:
            state[at] = 2
            stack.pop()
            continue
        child = rest.pop()
        if state.get(child) == 1:
            return True
        if child not in state:
            state[child] = 1
            stack.append((child, _members_of(kernel, child)))
    return False


def _members_of(kernel: Kernel, at: int) -> list[int]:
    mask = kernel.after[at]
    for group in kernel.groups[at]:
        mask |= group
    return list(members(mask))


def search_with_loops(kernel: Kernel) -> tuple[int, int] | None:
    """The best solution of a kernel with loops, by branch and bound."""
    return _Search(kernel).run()


class _Search:
    def __init__(self, kernel: Kernel) -> None:
        self.kernel = kernel
        self.best: tuple[int, int] | None = None

    def run(self) -> tuple[int, int] | None:
        todo = self.kernel.after[ROOT]
        self._visit(*self._include(0, set(self.kernel.groups[ROOT]), todo), forbidden=0)
        return self.best

    def _include(self, done: int, open_groups: set[int], todo: int) -> tuple[int, set[int]]:
        """Add steps with all they need; what is then met is no longer open."""
        todo &= ~done
        while todo:
            done |= todo
            needed = 0
            for at in members(todo):
                needed |= self.kernel.after[at]
                open_groups |= self.kernel.groups[at]
            todo = needed & ~done
        return done, {group for group in open_groups if not group & done}

    def _visit(self, done: int, open_groups: set[int], *, forbidden: int) -> None:
        if done & forbidden:
            return
        spent = sum(self.kernel.cost[at] for at in members(done))
        if self.best is not None and spent >= self.best[0]:
            return
        if not open_groups:
            broken = self._broken(done)
            if broken is None:
                self.best = (spent, done)
                return
            open_groups = {broken}
        group = min((group & ~forbidden for group in open_groups), key=_by_size)
        for at in sorted(members(group), key=lambda way: (self.kernel.cost[way], way)):
            self._visit(*self._include(done, set(open_groups), 1 << at), forbidden=forbidden)
            forbidden |= 1 << at

    def _broken(self, done: int) -> int | None:
        """None where the steps can be put in order; else the ways in from outside."""
        stuck = self._stuck(done)
        if not stuck:
            return None
        ways = 0
        for at in members(stuck):
            if self.kernel.after[at] & stuck:
                continue
            for group in self.kernel.groups[at]:
                if not group & done & ~stuck:
                    ways |= group & ~stuck
        return ways

    def _stuck(self, done: int) -> int:
        ordered, before = 0, -1
        while ordered != before:
            before = ordered
            for at in members(done & ~ordered):
                if not self.kernel.after[at] & ~ordered and all(
                    group & ordered for group in self.kernel.groups[at]
                ):
                    ordered |= 1 << at
        return done & ~ordered


def _by_size(group: int) -> tuple[int, int]:
    return group.bit_count(), group
