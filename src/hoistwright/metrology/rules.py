"""Decision rules: how a reading with its uncertainty is held against a limit."""

from __future__ import annotations

import math
from enum import Enum

import attrs


class RuleKind(Enum):
    """Which decision rule."""

    GUARDED = "guarded acceptance"
    PROBABILITY = "maximum probability"
    SIMPLE = "simple acceptance"


@attrs.frozen
class DecisionRule:
    """A decision rule with its one parameter: r of the guard band, or the greatest probability.

    Make one with `guarded`, `maximum_probability` or `simple`.

    References:
        JCGM 106:2012, 8.2 (simple acceptance), 8.3.2 (guarded acceptance), 9.5 (risk at one
        reading); ISO 14253-1:2017 (limit by probability, 95 %); from memory.
    """

    kind: RuleKind
    parameter: float = math.nan

    @property
    def can_release(self) -> bool:
        """Simple acceptance is there for comparison; no hoist is released by it."""
        return self.kind is not RuleKind.SIMPLE

    @property
    def words(self) -> str:
        """The rule as one sentence for reports."""
        if self.kind is RuleKind.GUARDED:
            return (
                f"guarded acceptance: fit only if the reading keeps {self.parameter:g} standard "
                "uncertainties clear of the limit"
            )
        if self.kind is RuleKind.PROBABILITY:
            return (
                "maximum probability: fit only if the probability of being beyond the limit is "
                f"at most {100 * self.parameter:g} %"
            )
        return "simple acceptance: uncertainty not regarded; for comparison only, cannot release"


def guarded(r: float = 2.0) -> DecisionRule:
    """Guarded acceptance with guard band g = r·u (r = 2: g = U at k = 2).

    >>> guarded(1.645).parameter
    1.645
    """
    if not (math.isfinite(r) and r >= 0):
        raise ValueError(f"the guard band parameter r is {r}; expected a finite figure, 0 or more")
    return DecisionRule(RuleKind.GUARDED, float(r))


def maximum_probability(p_max: float = 0.05) -> DecisionRule:
    """Fit while P(beyond the limit) is at most `p_max`, which must not exceed one half."""
    if not 0 < p_max <= 0.5:
        raise ValueError(f"the greatest probability is {p_max}; expected above 0, at most 0.5")
    return DecisionRule(RuleKind.PROBABILITY, float(p_max))


def simple() -> DecisionRule:
    """Compare reading and limit alone. For comparison; cannot release."""
    return DecisionRule(RuleKind.SIMPLE)


GUARDED = guarded()
