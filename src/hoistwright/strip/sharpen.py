"""Sharpening a step's conditions by what the steps before it cannot do without."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from hoistwright.strip.bits import is_single, members


def sharpened(
    after: int, groups: Collection[int], must: Mapping[int, int]
) -> tuple[int, set[int], int]:
    """The same conditions said shorter, and all that follows from them.

    must(x) = x and must of all it needs, and for each group what all its members must.
    A group that must(x) meets is no choice; a member whose must holds another member of
    the same group is no way of its own; a group of one is a plain need. A need that
    follows from another need need not be said.

    Args:
        after: the needs of a step, as a bit mask.
        groups: its groups of ways in.
        must: must of every step that stands in them.

    Returns:
        The direct needs; the groups that are real choices; must without the step itself.

    References:
        Dominators of flow graphs, carried over to AND/OR graphs ("landmarks" in planning),
        from memory.
    """
    needs = 0
    for at in members(after):
        needs |= must[at]
    if not groups:
        return _direct(after, must), set(), needs
    for group in groups:
        needs |= shared(group, must)
    open_groups = {minimal(group, must) for group in groups if not group & needs}
    for group in open_groups:
        if is_single(group):
            needs |= must[group.bit_length() - 1]
    open_groups = {group for group in open_groups if not group & needs}
    return _direct(needs, must), _without_supersets(open_groups), needs


def shared(group: int, must: Mapping[int, int]) -> int:
    """What every member of the group must have."""
    common = -1
    for at in members(group):
        common &= must[at]
    return common


def minimal(group: int, must: Mapping[int, int]) -> int:
    """The members of a group that do not need another member anyway."""
    kept = group
    for at in members(group):
        if must[at] & group & ~(1 << at):
            kept &= ~(1 << at)
    return kept


def union(groups: Iterable[int]) -> int:
    """The union of sets of steps."""
    mask = 0
    for group in groups:
        mask |= group
    return mask


def _without_supersets(groups: set[int]) -> set[int]:
    if len(groups) < 2:
        return groups
    kept: list[int] = []
    for group in sorted(groups, key=int.bit_count):
        if not any(small & group == small for small in kept):
            kept.append(group)
    return set(kept)


def _direct(needs: int, must: Mapping[int, int]) -> int:
    """The needs that do not follow from another need."""
    if is_single(needs):
        return needs
    implied = 0
    for at in members(needs):
        implied |= must[at] & ~(1 << at)
    return needs & ~implied
