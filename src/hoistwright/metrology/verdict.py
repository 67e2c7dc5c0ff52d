"""One verdict with all that led to it, for reports and pages."""

from __future__ import annotations

import attrs
import numpy as np

from hoistwright.metrology.arrays import as_floats
from hoistwright.metrology.conformity import Side, decide, guard_band
from hoistwright.metrology.outcome import Outcome
from hoistwright.metrology.rules import GUARDED, DecisionRule


@attrs.frozen
class Verdict:
    """One decision with all that led to it. Figures in SI; NaN where not established."""

    outcome: Outcome
    value: float
    uncertainty: float
    dof: float
    limit: float
    side: Side
    rule: DecisionRule
    guard: float
    acceptance_limit: float
    probability: float
    reason: str


def judge(
    value: float,
    uncertainty: float,
    limit: float,
    side: Side = Side.UPPER,
    *,
    dof: float = np.inf,
    rule: DecisionRule = GUARDED,
) -> Verdict:
    """One verdict with its guard band, acceptance limit and reason; decided by `decide`.

    Args:
        value: reading x in SI.
        uncertainty: standard uncertainty u ≥ 0.
        limit: limit L.
        side: which side of the limit is bad.
        dof: effective degrees of freedom.
        rule: the decision rule.

    Returns:
        The verdict. `guard` is the band g in SI, `acceptance_limit` L − g (L + g for a lower
        limit): with every rule the reading is fit up to there.

    Raises:
        ValueError: as `decide`.

    References:
        As `hoistwright.metrology.conformity.decide`.

    >>> v = judge(9.9, 0.1, 10.0)
    >>> v.outcome.words, v.guard, v.acceptance_limit
    ('borderline', 0.2, 9.8)
    """
    side = Side(side)
    decision = decide(value, uncertainty, limit, side, dof=dof, rule=rule)
    outcome = Outcome(int(decision.codes))
    guard = float(guard_band(as_floats(uncertainty), as_floats(dof), rule))
    return Verdict(
        outcome=outcome,
        value=float(value),
        uncertainty=float(uncertainty),
        dof=float(dof),
        limit=float(limit),
        side=side,
        rule=rule,
        guard=guard,
        acceptance_limit=float(limit) - int(side) * guard,
        probability=float(decision.beyond),
        reason=_REASONS[outcome],
    )


_REASONS = {
    Outcome.FIT: "the reading stays clear of the limit by more than the rule asks",
    Outcome.BORDERLINE: "too near the limit to tell: measure again, or take it as renew",
    Outcome.NOT_ESTABLISHED: "the value, its uncertainty or the limit is missing",
    Outcome.RENEW: "the reading is at or beyond the limit",
}
