"""Gauges, uncertainty budgets and conformity decisions.

Pure functions on SI floats and arrays: a scalar and a million rows go the same way.
"""

from hoistwright.metrology.budget import Budget, Component, budget, combine
from hoistwright.metrology.conformity import Decisions, Side, decide
from hoistwright.metrology.derived import Form, derive, derived_budget
from hoistwright.metrology.gauges import Gauge, GaugeState, GaugeStatus, state_on
from hoistwright.metrology.outcome import Outcome, worst
from hoistwright.metrology.reading import as_one_component, length_budget, reading_budget
from hoistwright.metrology.repeats import Scatter, pooled_scatter, scatter, usual_or_own
from hoistwright.metrology.rows import Judged, judge_rows
from hoistwright.metrology.rules import (
    GUARDED,
    DecisionRule,
    RuleKind,
    guarded,
    maximum_probability,
    simple,
)
from hoistwright.metrology.tails import TWO_SIGMA, coverage_factor, distribution, guard_factor
from hoistwright.metrology.typeb import arcsine, normal, rectangular, triangular
from hoistwright.metrology.verdict import Verdict, judge

__all__ = [
    "GUARDED", "TWO_SIGMA", "Budget", "Component", "DecisionRule", "Decisions", "Form", "Gauge",
    "GaugeState", "GaugeStatus", "Judged", "Outcome", "RuleKind", "Scatter", "Side", "Verdict",
    "arcsine", "as_one_component", "budget", "combine", "coverage_factor", "decide", "derive",
    "derived_budget", "distribution", "guard_factor", "guarded", "judge", "judge_rows",
    "length_budget", "maximum_probability", "normal", "pooled_scatter", "reading_budget",
    "rectangular", "scatter", "simple", "state_on", "triangular", "usual_or_own", "worst",
]  # fmt: skip
