"""The decision rule of each basis, and the one for limits of the maker."""

from __future__ import annotations

from collections.abc import Sequence

from hoistwright.basis.model import Basis
from hoistwright.basis.model import DecisionRule as Stated
from hoistwright.metrology import (
    GUARDED,
    DecisionRule,
    RuleKind,
    guarded,
    maximum_probability,
    simple,
)


def decision_rules(bases: Sequence[Basis]) -> dict[str, DecisionRule]:
    """Rules by basis key; under "" the strictest of them, used for limits of the maker."""
    rules = {basis.key: decision_rule(basis.head.rule) for basis in bases}
    return {"": max(rules.values(), key=_strictness, default=GUARDED), **rules}


def _strictness(rule: DecisionRule) -> float:
    """The guard band in standard uncertainties that the rule keeps (normal, JCGM 106, 8.3)."""
    if rule.kind is RuleKind.GUARDED:
        return rule.parameter
    if rule.kind is RuleKind.SIMPLE:
        return -1.0
    from scipy.special import ndtri

    return -float(ndtri(rule.parameter))


def decision_rule(stated: Stated) -> DecisionRule:
    """The rule a basis file states, as the engine takes it."""
    if stated.kind == "guarded":
        return guarded(stated.guard_factor)
    if stated.kind == "maximum probability":
        return maximum_probability(stated.most_probability)
    return simple()
