"""The wear ruler: where a reading stands between as new and its limit, as plain numbers.

Every ruler runs the same way: as new on the left, worse to the right, the limit always at
the same place. Renderers (terminal, SVG) only draw what is computed here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs

from hoistwright.examine.verdict import Judgement, Verdict
from hoistwright.metrology import Outcome

LIMIT_AT = 0.75
"""Where the limit stands on every ruler, as a share of its length."""


@attrs.frozen(kw_only=True)
class Ruler:
    """Places along the ruler, 0 (left end) to 1 (right end); what lies outside is clipped.

    `new` is None where no as-new value is known, `value` where nothing is established.
    `low` and `high` are the ends of value -+ U. `ghosts` are earlier readings.
    """

    outcome: Outcome
    limit: float = LIMIT_AT
    acceptance: float | None = None
    new: float | None = None
    value: float | None = None
    low: float | None = None
    high: float | None = None
    ghosts: tuple[float, ...] = ()
    beyond_left: bool = False
    beyond_right: bool = False


def ruler(verdict: Verdict, earlier: Sequence[float] = ()) -> Ruler | None:
    """The ruler of a measured verdict; None for a look and where no limit is known.

    `earlier` are earlier values of the judged quantity, SI, oldest first.
    """
    judged = verdict.judgement
    if judged is None:
        has_limit = verdict.measured and verdict.ruling is not None
        return Ruler(outcome=verdict.outcome) if has_limit else None
    if not math.isfinite(judged.value + judged.expanded + judged.acceptance_limit):
        return Ruler(outcome=verdict.outcome)
    new = _as_new(verdict, judged)
    start, scale = _scale(judged, new)

    def at(value: float) -> float:
        return (value - start) * scale

    ends = sorted((at(judged.value - judged.expanded), at(judged.value + judged.expanded)))
    place = at(judged.value)
    return Ruler(
        outcome=verdict.outcome,
        acceptance=_clip(at(judged.acceptance_limit)),
        new=None if new is None else _clip(at(new)),
        value=_clip(place),
        low=_clip(ends[0]),
        high=_clip(ends[1]),
        ghosts=tuple(_clip(at(value)) for value in earlier),
        beyond_left=place < 0.0,
        beyond_right=place > 1.0,
    )


def _as_new(verdict: Verdict, judged: Judgement) -> float | None:
    """The judged quantity of an as-new part: nought for a share or a difference."""
    if judged.name != "reading":
        return 0.0
    return None if verdict.baseline is None else verdict.baseline.value


def _scale(judged: Judgement, new: float | None) -> tuple[float, float]:
    """Value at the left end, and ruler lengths per unit, so that the limit is at LIMIT_AT.

    As new stands a little in from the left end. Without an as-new value (or with one on the
    limit) the ruler spans 30 % of the limit on its good side.
    """
    sign = 1.0 if judged.upper else -1.0
    span = math.nan if new is None else sign * (judged.limit - new)
    if not span > 0.0:
        good = 0.3 * abs(judged.limit) or 1.0
        return judged.limit - sign * good, sign * LIMIT_AT / good
    scale = sign * (LIMIT_AT - NEW_AT) / span
    return judged.limit - LIMIT_AT / scale, scale


NEW_AT = 0.08
"""Where as new stands: room to the left for a reading a little better than as new."""


def _clip(place: float) -> float:
    return min(max(place, 0.0), 1.0)
