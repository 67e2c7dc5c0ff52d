"""In which order the chosen steps are done: feasible, and with few turns of the hoist."""

from __future__ import annotations

from collections.abc import Sequence

from hoistwright.strip.bits import mask_of, members
from hoistwright.strip.graph import Graph

TURNED = ("wheel side", "gear side")
"""The sides of which one must face the fitter. Middle and hook ends are reached either way."""


def sequence(graph: Graph, chosen: int) -> tuple[int, ...]:
    """The chosen steps in an order that can be done with the fewest turns of the hoist.

    On the side that faces the fitter everything that can be done is done before the hoist
    is turned. Doing more never hinders a later step, so for a given first side no order
    needs fewer turns; of the two first sides the better is taken (the wheel side between
    equals). Within a side the steps follow the order of the design file.

    Args:
        graph: the take-apart graph.
        chosen: the steps to be done, as a bit mask.

    Returns:
        Places of the steps in `graph.steps`, in order.

    Errors:
        ValueError: steps that no order can do.

    References:
        The exchange argument above; no outside source.

    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.strip.graph import build
    >>> graph = build(shipped("ardle-2000"))
    >>> [graph.steps[at].key for at in sequence(graph, graph.all)][0]
    'make_safe'
    """
    orders = [_from_side(graph, chosen, side) for side in TURNED]
    return min(orders, key=lambda order: turns_of(graph, order))


def turns_of(graph: Graph, order: Sequence[int]) -> int:
    """How often the hoist must be turned when the steps are done in this order.

    >>> from hoistwright.hoist.take_apart import Step
    >>> from hoistwright.quantity import Duration
    >>> from hoistwright.strip.graph import graph_of
    >>> sides = ("wheel side", "middle", "gear side", "wheel side")
    >>> graph = graph_of([Step(key=str(at), name="", side=side, minutes=Duration(60))
    ...                   for at, side in enumerate(sides)])
    >>> turns_of(graph, [0, 1, 2, 3]), turns_of(graph, [0, 3, 1, 2])
    (2, 1)
    """
    return sum(turned_before(graph, order))


def turned_before(graph: Graph, order: Sequence[int]) -> list[bool]:
    """For each step in order: is the hoist turned just before it?"""
    facing, turned = "", []
    for at in order:
        side = graph.steps[at].side
        turned.append(side in TURNED and facing not in ("", side))
        facing = side if side in TURNED else facing
    return turned


def _from_side(graph: Graph, chosen: int, side: str) -> tuple[int, ...]:
    order: list[int] = []
    waiting = sorted(members(chosen), key=lambda at: graph.written[at])
    idle = 0
    while waiting:
        progress = _do_side(graph, waiting, order, side)
        idle = 0 if progress else idle + 1
        if idle == len(TURNED):
            stuck = ", ".join(graph.steps[at].key for at in waiting)
            raise ValueError(
                f"chosen: the steps {stuck} wait for steps that are not chosen; expected a "
                "set of steps that can be done. Take it from cheapest()."
            )
        side = TURNED[1 - TURNED.index(side)]
    return tuple(order)


def _do_side(graph: Graph, waiting: list[int], order: list[int], side: str) -> bool:
    """Do all that can be done with `side` up, first written first; True if anything was."""
    done, before = mask_of(order), len(order)
    while True:
        at = next((at for at in waiting if _may(graph, at, done, side)), None)
        if at is None:
            return len(order) > before
        order.append(at)
        waiting.remove(at)
        done |= 1 << at


def _may(graph: Graph, at: int, done: int, side: str) -> bool:
    step_side = graph.steps[at].side
    return (step_side == side or step_side not in TURNED) and graph.ready(at, done)


def supports(graph: Graph, order: Sequence[int]) -> dict[int, int]:
    """What each step waits for in this order: its needs, and of each group the first done."""
    place = {at: number for number, at in enumerate(order)}
    chosen = mask_of(order)
    waits: dict[int, int] = {}
    for at in order:
        waits[at] = graph.after[at]
        for group in graph.groups[at]:
            waits[at] |= 1 << min(members(group & chosen), key=lambda way: place[way])
    return waits
