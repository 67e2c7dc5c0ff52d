"""Hold one taken figure against one ruling: the quantity that is judged, and the verdict on it."""

from __future__ import annotations

import math

import attrs

from hoistwright.basis.limit_value import settled
from hoistwright.basis.rulings import Ruling
from hoistwright.examine.taken import Taken
from hoistwright.examine.verdict import Judgement
from hoistwright.hoist.as_new import Baseline
from hoistwright.hoist.limits import Comparison
from hoistwright.metrology import (
    Budget,
    Component,
    DecisionRule,
    Form,
    Outcome,
    Side,
    Verdict,
    budget,
    derived_budget,
    judge,
)
from hoistwright.quantity import Dimension

_FORMS: dict[Comparison, tuple[Form, float, str]] = {
    "elongation": (Form.DIFFERENCE, 1.0, "elongation"),
    "rise from as new": (Form.RISE, 1.0, "rise"),
    "loss from as new": (Form.LOSS, 1.0, "loss"),
    "rise by": (Form.DIFFERENCE, 1.0, "rise"),
    "loss by": (Form.DIFFERENCE, -1.0, "loss"),
    "at most": (Form.DIRECT, 1.0, "reading"),
    "at least": (Form.DIRECT, 1.0, "reading"),
}
"""Comparison: the derived quantity, its sign, and what it is called."""

_SHARES = ("elongation", "rise from as new", "loss from as new")


@attrs.frozen(kw_only=True)
class Compared:
    """Outcome of one ruling over one taken figure. `missing` says why it is not established."""

    outcome: Outcome
    judgement: Judgement | None = None
    missing: str = ""
    reason: str = ""


def compare(
    taken: Taken,
    ruling: Ruling,
    baseline: Baseline | None,
    rule: DecisionRule,
    *,
    dimension: Dimension,
    gauge_length: float | None = None,
) -> Compared:
    """Judge `taken` by `ruling`.

    `gauge_length` is n p of a chain gauge length in m; elongation is (L - L_ref)/(n p)
    (design of the project; ASME B30.16 compares with an unworn length of the same chain).
    What is missing makes the outcome "not established".
    """
    missing = _missing(taken, ruling, baseline, gauge_length)
    if missing or taken.budget is None or ruling.limit_si is None:
        return Compared(outcome=Outcome.NOT_ESTABLISHED, missing=missing or "no limit")
    form, sign, name = _FORMS[ruling.comparison]
    as_new = None if form is Form.DIRECT or baseline is None else _as_new(baseline)
    x0 = float("nan") if baseline is None else baseline.value
    value, found = derived_budget(form, taken.value, taken.budget, x0, as_new)
    factor = sign / gauge_length if ruling.comparison == "elongation" and gauge_length else sign
    whole = budget([part.scaled(factor) for part in found.components], notes=found.notes)
    side = Side.UPPER if ruling.side == "upper" else Side.LOWER
    verdict = judge(
        settled(factor * float(value), ruling.limit_si),
        float(whole.u),
        ruling.limit_si,
        side,
        dof=float(whole.dof),
        rule=rule,
    )
    share = ruling.comparison in _SHARES
    odd = _better_than_new(taken, ruling, baseline)
    if odd and verdict.outcome is Outcome.FIT:
        return Compared(outcome=Outcome.NOT_ESTABLISHED, missing=odd)
    judgement = _judgement(taken, verdict, whole, name, Dimension.RATIO if share else dimension)
    return Compared(outcome=verdict.outcome, judgement=judgement, reason=verdict.reason)


def _judgement(
    taken: Taken, verdict: Verdict, whole: Budget, name: str, dimension: Dimension
) -> Judgement:
    return Judgement(
        reading=taken.value,
        reading_uncertainty=float(taken.budget.u) if taken.budget else float("nan"),
        repeats=taken.repeats,
        name=name,
        dimension=dimension,
        value=verdict.value,
        uncertainty=verdict.uncertainty,
        dof=verdict.dof,
        coverage_factor=float(whole.k),
        limit=verdict.limit,
        upper=verdict.side is Side.UPPER,
        guard=verdict.guard,
        acceptance_limit=verdict.acceptance_limit,
        probability=verdict.probability,
        budget=whole,
    )


def _missing(
    taken: Taken, ruling: Ruling, baseline: Baseline | None, gauge_length: float | None
) -> str:
    if taken.missing:
        return taken.missing
    if _FORMS[ruling.comparison][0] is not Form.DIRECT and baseline is None:
        return "no as-new value is known"
    if ruling.comparison == "elongation" and gauge_length is None:
        return "the chain's pitch or the number of links is not known"
    return ""


ODD_FACTOR, ODD_SHARE = 4.0, 0.03
"""A reading better than as new by more than 4 u and more than 3 % of the as-new value is no
wear but a mistake: a link miscounted, another part, a wrong design (common practice)."""

BETTER = (
    "the reading is better than as new: links miscounted, another part, or a wrong as-new value"
)


def _better_than_new(taken: Taken, ruling: Ruling, baseline: Baseline | None) -> str:
    if taken.budget is None or baseline is None or baseline.value <= 0.0:
        return ""
    wears_up = ruling.comparison in ("elongation", "rise from as new", "rise by", "at most")
    better = (baseline.value - taken.value) * (1.0 if wears_up else -1.0)
    u = math.hypot(float(taken.budget.u), baseline.uncertainty)
    return BETTER if better > max(ODD_FACTOR * u, ODD_SHARE * baseline.value) else ""


def _as_new(baseline: Baseline) -> Budget:
    return budget([Component("as-new value", baseline.uncertainty, source=baseline.source)])
