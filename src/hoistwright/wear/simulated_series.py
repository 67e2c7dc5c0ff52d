"""Simulated histories in the form that the wear model takes."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np

from hoistwright.wear.groups import group_tree
from hoistwright.wear.series import GroupPath, Series, Start, WearReading
from hoistwright.wear.simulate import History
from hoistwright.wear.visits import Visits

Clock = Literal["years", "lifts"]


def chain_series(
    history: History, group: GroupPath = (), clock: Clock = "years", prefix: str = "simulated "
) -> list[Series]:
    """The elongation readings of each hoist as a series.

    Args:
        history: simulated.
        group: the group of all these hoists.
        clock: the time of the series: years, or lifts as a counter would show them.
        prefix: of the hoists' names.

    Returns:
        One series per hoist; renewals begin new lives.
    """
    when = history.time if clock == "years" else history.lifts
    found = []
    for h in range(when.shape[1]):
        starts = [Start(time=0.0)]
        starts += [Start(time=float(t)) for t in when[history.renewed_chain[:, h], h]]
        readings = tuple(
            WearReading(time=float(t), value=float(y), uncertainty=history.elongation_u)
            for t, y in zip(when[:, h], history.read_elongation[:, h], strict=True)
            if not math.isnan(y)
        )
        found.append(
            Series(hoist=f"{prefix}{h + 1}", group=group, starts=tuple(starts), readings=readings)
        )
    return found


def chain_visits(history: History, group: GroupPath = ()) -> Visits:
    """The elongation readings as padded arrays, in years, straight from the arrays.

    A renewal at visit k makes slot k + 1 fresh: its gap is the time since the renewal.
    """
    fresh = np.zeros(history.time.shape, bool)
    fresh[0] = True
    fresh[1:] = history.renewed_chain[:-1]
    nothing = np.zeros(history.time.shape)
    return Visits(
        gap=np.diff(history.time, axis=0, prepend=0.0),
        value=history.read_elongation,
        u=nothing + history.elongation_u,
        fresh=fresh,
        start=nothing,
        start_u=nothing,
        leaf=np.zeros(history.time.shape[1], np.intp),
        tree=group_tree([group]),
    )
