"""Which steps two people can do at the same time, and how long they then take."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import attrs

from hoistwright.hoist.take_apart import Step
from hoistwright.strip.bits import mask_of, members

PEOPLE = 2


@attrs.frozen(kw_only=True)
class Task:
    """One step in the schedule: who does it, from when to when, in seconds."""

    step: int
    person: int
    start: float
    end: float


def schedule(
    order: Sequence[int],
    waits: Mapping[int, int],
    seconds: Mapping[int, float],
    places: Mapping[int, str],
    hands: Mapping[int, frozenset[str]] | None = None,
) -> dict[int, Task]:
    """A schedule for two people by list scheduling.

    Two steps run at the same time only where neither waits for the other, they are on different
    sides and have no part in common: two people are not in each other's way. The hoist stands
    upright, both sides open. Whoever is free takes the step that the longest work hangs on; of
    two who are free it falls to the one who last worked on that side.

    Args:
        order: the steps, in an order that can be done.
        waits: for each step, the steps that must be finished before, as a bit mask.
        seconds: for each step, how long it takes, s, from 0.
        places: for each step, the side it is done on.
        hands: for each step, the parts it moves or is done on; none without it.

    Returns:
        The task of each step. The last end is at most the sum of all times and at least the
        longest chain of steps that wait for each other.

    Errors:
        ValueError: steps that wait for each other.

    References:
        Graham 1969 (list scheduling), from memory.

    >>> sides = {0: "wheel side", 1: "gear side", 2: "wheel side"}
    >>> tasks = schedule([0, 1, 2], {0: 0, 1: 0, 2: 0b01}, {0: 60, 1: 90, 2: 60}, sides)
    >>> [(task.step, task.person, task.start, task.end) for task in tasks.values()]
    [(0, 1, 0.0, 60.0), (1, 2, 0.0, 90.0), (2, 1, 60.0, 120.0)]
    """
    tails = _tails(order, waits, seconds)
    rank = {at: (-tails[at], number) for number, at in enumerate(order)}
    tasks: dict[int, Task] = {}
    free_at = [0.0] * PEOPLE
    now = 0.0
    last_at = [""] * PEOPLE
    held = {at: {places[at], *(hands or {}).get(at, ())} for at in order}
    waiting = sorted(order, key=lambda at: rank[at])
    while waiting:
        running = [task for task in tasks.values() if task.end > now]
        done = mask_of(at for at, task in tasks.items() if task.end <= now)
        busy = {thing for task in running for thing in held[task.step]}
        free = [who for who, end in enumerate(free_at) if end <= now]
        ready = (at for at in waiting if not waits[at] & ~done and busy.isdisjoint(held[at]))
        at = next(ready, None) if free else None
        if at is None:
            if not running:
                raise ValueError("waits: steps wait for each other; expected none to")
            now = min(task.end for task in running)
            continue
        person = min(free, key=lambda who: (last_at[who] != places[at], who))
        tasks[at] = Task(step=at, person=person + 1, start=now, end=now + seconds[at])
        free_at[person], last_at[person] = now + seconds[at], places[at]
        waiting.remove(at)
    return tasks


def in_hand(steps: Sequence[Step], order: Sequence[int]) -> dict[int, frozenset[str]]:
    """For each step of `order` (places in `steps`), the parts it moves or is done on."""
    return {at: frozenset((*steps[at].frees, *steps[at].worked_on)) for at in order}


def mirrored(order: Sequence[int], waits: Mapping[int, int]) -> dict[int, int]:
    """What each step waits for on the way back: all that waited for it."""
    back = dict.fromkeys(order, 0)
    for at, mask in waits.items():
        for before in members(mask):
            back[before] |= 1 << at
    return back


def _tails(
    order: Sequence[int], waits: Mapping[int, int], seconds: Mapping[int, float]
) -> dict[int, float]:
    """For each step, the time of the longest chain that begins with it."""
    tails = {at: seconds[at] for at in order}
    for at in reversed(order):
        for before in members(waits[at]):
            tails[before] = max(tails[before], seconds[before] + tails[at])
    return tails
