"""Many series as padded arrays: one row per visit number, one column per hoist."""

from __future__ import annotations

from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoistwright.metrology.arrays import Floats, as_floats
from hoistwright.wear.groups import GroupTree, group_tree
from hoistwright.wear.series import Series, check_series

Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]


@attrs.frozen(eq=False)
class Visits:
    """Shapes are (N, H): N visit slots, H hoists; `leaf` is (H,) and numbers the tree's leaves.

    `gap`: time since the slot before; at a `fresh` slot, since the part went in.
    `value`: NaN where nothing was read (a missed visit, a renewal without reading, padding).
    `start`, `start_u`: mean and standard uncertainty of a fresh part; start_u NaN: unknown.
    """

    gap: Floats
    value: Floats
    u: Floats
    fresh: Bools
    start: Floats
    start_u: Floats
    leaf: Ints
    tree: GroupTree

    @property
    def read(self) -> Bools:
        """Where there is a reading."""
        return np.isfinite(self.value)

    @property
    def free_start(self) -> bool:
        """Some hoist has no as-new value."""
        return bool(np.isnan(self.start_u).any())

    def part(self, columns: slice) -> Visits:
        """The hoists of a slice of columns."""
        names = ("gap", "value", "u", "fresh", "start", "start_u")
        cut = {name: getattr(self, name)[:, columns] for name in names}
        return Visits(leaf=self.leaf[columns], tree=self.tree, **cut)


def regular_visits(
    times: ArrayLike,
    values: ArrayLike,
    u: ArrayLike,
    *,
    groups: Sequence[tuple[str, ...]] | None = None,
    start: ArrayLike = 0.0,
    start_u: ArrayLike = 0.0,
) -> Visits:
    """Visits of hoists that all went in new at time 0 and had nothing renewed.

    Args:
        times: (H, N) or (N,), rising along the last axis, from 0.
        values: (H, N); NaN for a missed visit.
        u: standard uncertainty, broadcast to (H, N).
        groups: a group path for each hoist; None for one group.
        start: start value, scalar or (H,).
        start_u: its standard uncertainty, scalar or (H,); NaN: no as-new value exists.

    Returns:
        The padded arrays.

    Raises:
        ValueError: times that fall, or a reading without a finite u above 0.

    References:
        arrangement of data only; no outside source.

    >>> regular_visits([1.0, 2.0], [[0.1, 0.2]], 0.01).gap.ravel().tolist()
    [1.0, 1.0]
    """
    y = np.atleast_2d(as_floats(values))
    H, N = y.shape
    t = np.broadcast_to(as_floats(times), (H, N))
    gap = np.diff(t, axis=1, prepend=0.0).T
    spread = np.broadcast_to(as_floats(u), (H, N)).T
    if (gap < 0).any() or not np.isfinite(gap).all():
        raise ValueError("times fall or are not finite; expected them to rise from 0.")
    if not ((spread > 0) & np.isfinite(spread))[np.isfinite(y.T)].all():
        raise ValueError("a reading has no standard uncertainty; expected a figure above 0.")
    tree = group_tree([()] if groups is None else groups)
    fresh = np.zeros((N, H), bool)
    fresh[0] = True
    return Visits(
        gap=np.ascontiguousarray(gap),
        value=np.ascontiguousarray(y.T),
        u=np.ascontiguousarray(spread),
        fresh=fresh,
        start=_first_row(start, N, H),
        start_u=_first_row(start_u, N, H),
        leaf=np.zeros(H, np.intp) if groups is None else tree.leaves_of(groups),
        tree=tree,
    )


def _first_row(value: ArrayLike, N: int, H: int) -> Floats:
    rows = np.zeros((N, H))
    rows[0] = as_floats(value)
    return rows


def stack(many: Sequence[Series], tree: GroupTree | None = None) -> Visits:
    """Series as padded arrays.

    Args:
        many: the series, all with groups of one depth.
        tree: the groups to number leaves by; made from the series where None.

    Returns:
        The padded arrays, hoists in the order given.

    Raises:
        ValueError: every fault of every series at once.

    References:
        arrangement of data only; no outside source.

    >>> from hoistwright.wear.series import Start, WearReading
    >>> one = Series(hoist="A 1", starts=(Start(time=0), Start(time=3)),
    ...              readings=(WearReading(time=2, value=0.4, uncertainty=0.05),))
    >>> visits = stack([one])
    >>> visits.gap.ravel().tolist(), visits.fresh.ravel().tolist()
    ([2.0, 0.0], [True, True])
    """
    check_series(many)
    tree = group_tree([series.group for series in many]) if tree is None else tree
    rows = [_slots(series) for series in many]
    N, H = max((len(found) for found in rows), default=0), len(many)
    data = np.zeros((6, N, H))
    data[1] = np.nan
    data[2] = 1.0
    for column, found in enumerate(rows):
        data[:, : len(found), column] = np.array(found).T
    return Visits(
        gap=data[0],
        value=data[1],
        u=data[2],
        fresh=data[3] > 0,
        start=data[4],
        start_u=data[5],
        leaf=tree.leaves_of([series.group for series in many]),
        tree=tree,
    )


def _slots(series: Series) -> list[tuple[float, ...]]:
    """(gap, value, u, fresh, start, start_u) of each slot of one series, in time."""
    slots: list[tuple[float, ...]] = []
    ends = [start.time for start in series.starts[1:]] + [np.inf]
    after = -np.inf
    for start, end in zip(series.starts, ends, strict=True):
        level = 0.0 if start.value is None else start.value
        doubt = np.nan if start.value is None else start.uncertainty
        own = [r for r in series.readings if after < r.time <= end]
        before, fresh = start.time, 1.0
        for r in own:
            u = r.uncertainty if np.isfinite(r.value) else 1.0
            slots.append((r.time - before, r.value, u, fresh, level, doubt))
            before, fresh, level, doubt = r.time, 0.0, 0.0, 0.0
        if not own:
            slots.append((0.0, np.nan, 1.0, 1.0, level, doubt))
        after = end
    return slots
