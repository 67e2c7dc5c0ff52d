"""Which parts a small drawing shows: those at hand and what they sit between."""

from __future__ import annotations

from collections.abc import Collection

from hoistwright.drawing.axes import LOOSE, axis_of
from hoistwright.drawing.scene import drawable
from hoistwright.hoist.design import Design

RUNS_OVER = {"load_chain": "load_sheave", "hand_chain": "hand_chain_wheel"}
"""Role of a chain, and of the wheel it runs over."""


def around(
    design: Design,
    keys: Collection[str],
    *,
    present: Collection[str] | None = None,
    count: int = 2,
) -> tuple[str, ...]:
    """`keys` and the `count` nearest parts on each side of them on their line.

    A chain also has the wheel that it runs over.

    Args:
        design: the design.
        keys: the parts the drawing is about (those of one step).
        present: parts still on the hoist; None for all. Others are not shown.
        count: how many neighbours on each side.

    Returns:
        Part keys in parts-list order. Parts without drawn data have no neighbours.
    """
    lines: dict[str, list[tuple[float, str]]] = {}
    ride = set() if present is None else _riding(design) - {*keys}
    for part in drawable(design):
        group = axis_of(part.drawn.axis).group if part.drawn else LOOSE
        there_now = present is None or part.key in {*present, *keys} - ride
        if part.drawn and group != LOOSE and there_now:
            lines.setdefault(group, []).append((part.drawn.order, part.key))
    there = {part.key for part in drawable(design)}
    there &= there if present is None else {*present, *keys}
    chosen = set(keys) | (_run_over(design, keys) & there)
    for stack in lines.values():
        order = [key for _, key in sorted(stack)]
        mine = [place for place, key in enumerate(order) if key in keys]
        chosen |= _close(order, mine, count)
    return tuple(part.key for part in drawable(design) if part.key in chosen)


def _run_over(design: Design, keys: Collection[str]) -> set[str]:
    """The wheels that chains among `keys` run over."""
    roles = {design.part(key).role for key in keys}
    over = {host for chain, host in RUNS_OVER.items() if chain in roles}
    return {part.key for part in design.parts if part.role in over}


def _close(order: list[str], mine: list[int], count: int) -> set[str]:
    """Parts within `count` places of one of `mine`."""
    return {key for place, key in enumerate(order) if any(abs(place - at) <= count for at in mine)}


def _riding(design: Design) -> set[str]:
    """Parts that no step takes off by themselves, as a riveted plate: they go with their cover."""
    freed = {key for step in design.take_apart for key in step.frees}
    return {part.key for part in design.parts if part.outside and part.key not in freed}
