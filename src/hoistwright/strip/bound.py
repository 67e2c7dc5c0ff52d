"""A lower bound on what the open choices of a kernel will cost, and a good solution with it."""

from __future__ import annotations

import attrs

from hoistwright.strip.bits import members
from hoistwright.strip.kernel import ROOT, Kernel


@attrs.frozen
class Ascent:
    """What the dual ascent found.

    `least`: at least this much must be spent. `left`: what remains of each step's cost; a
    solution with step x costs at least `least` plus what is left of all that x must have.
    `free`: the steps that can be done at no remaining cost; they meet every choice.
    """

    least: int
    left: dict[int, int]
    free: int


def ascend(kernel: Kernel) -> Ascent:
    """Lower bound by dual ascent over cuts.

    While some choice is not met by free steps there is a set of steps (a cut) of which every
    solution has one: the smallest remaining cost in it is charged to all of them. Each step
    is charged no more than its cost, so the charges add up to a feasible dual solution.

    References:
        Dual ascent for set covering: Balas & Ho 1980; cuts in AND/OR graphs: Helmert &
        Domshlak 2009 ("landmark cuts"); both from memory.
    """
    left = dict(kernel.cost)
    least, free = 0, _spread(kernel, left, 0)
    for group in sorted(kernel.open, key=lambda mask: (mask.bit_count(), mask)):
        while not group & free:
            cut = _cut(kernel, left, free, group)
            charge = min(left[at] for at in cut)
            least += charge
            for at in cut:
                left[at] -= charge
            free = _spread(kernel, left, free)
    return Ascent(least, left, free)


def _spread(kernel: Kernel, left: dict[int, int], free: int) -> int:
    """Add the steps that cost nothing more and whose conditions free steps meet."""
    waiting = [at for at, cost in left.items() if not cost and not free >> at & 1]
    while True:
        before = free
        for at in waiting:
            if not kernel.after[at] & ~free and all(group & free for group in kernel.groups[at]):
                free |= 1 << at
        if free == before:
            return free
        waiting = [at for at in waiting if not free >> at & 1]


def _cut(kernel: Kernel, left: dict[int, int], free: int, group: int) -> list[int]:
    """Steps with a cost left of which every way to meet `group` has at least one."""
    cut: list[int] = []
    seen, todo = 0, group
    while todo:
        low = todo & -todo
        seen |= low
        at = low.bit_length() - 1
        if left[at]:
            cut.append(at)
        else:
            todo |= _missing(kernel, at, free)
        todo &= ~seen
    return cut


def _missing(kernel: Kernel, at: int, free: int) -> int:
    """One condition of the step that free steps do not meet."""
    needs = kernel.after[at] & ~free
    if needs:
        return needs & -needs
    return next(group for group in sorted(kernel.groups[at]) if not group & free)


def primal(kernel: Kernel, free: int) -> tuple[int, int]:
    """A solution from free steps alone: the cheapest way for each choice, then trimmed.

    Returns:
        Its cost (with what the kernel has spent) and the steps of the first graph.
    """
    done, picked, todo = 0, [], sorted(kernel.open)
    while todo:
        group = todo.pop()
        if group & done:
            continue
        at = min(members(group & free), key=lambda way: (_extra(kernel, way, done), way))
        picked.append(at)
        fresh = kernel.must[at] & ~done
        done |= fresh
        todo.extend(group for step in members(fresh) for group in kernel.groups[step])
    done = _trimmed(kernel, done)
    chosen, spent = kernel.chosen, kernel.spent
    for at in members(done):
        chosen |= kernel.whole[at]
        spent += kernel.cost[at]
    return spent, chosen


def _extra(kernel: Kernel, at: int, done: int) -> int:
    return sum(kernel.cost[step] for step in members(kernel.must[at] & ~done))


def _trimmed(kernel: Kernel, done: int) -> int:
    """Leave out, dearest first, each step that the others can do without."""
    for at in sorted(members(done), key=lambda step: (-kernel.cost[step], step)):
        if done >> at & 1:
            rest = done & ~(1 << at)
            if _needed(kernel, rest, at):
                continue
            done = rest
    return done


def _needed(kernel: Kernel, rest: int, at: int) -> bool:
    bit = 1 << at
    for step in (*members(rest), ROOT):
        if kernel.after[step] & bit:
            return True
        if any(group & bit and not group & rest for group in kernel.groups[step]):
            return True
    return False
