"""The decision rule of each basis, and the one for limits of the maker."""

from __future__ import annotations

from collections.abc import Sequence

from hoistwright.basis.model import Basis
from hoistwright.basis.model import DecisionRule as Stated
from hoistwright.metrology import GUARDED, DecisionRule, guarded, maximum_probability, simple


def decision_rules(bases: Sequence[Basis]) -> dict[str, DecisionRule]:
    """Rules by basis key; under "" the first basis's, used for limits of the maker."""
    rules = {basis.key: decision_rule(basis.head.rule) for basis in bases}
    return {"": next(iter(rules.values()), GUARDED), **rules}


def decision_rule(stated: Stated) -> DecisionRule:
    """The rule a basis file states, as the engine takes it."""
    if stated.kind == "guarded":
        return guarded(stated.guard_factor)
    if stated.kind == "maximum probability":
        return maximum_probability(stated.most_probability)
    return simple()
