"""The appendices of a report: every criterion with its source, every uncertainty budget."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from hoistwright.basis.rulings import Ruling, Statement
from hoistwright.certificate.report_rows import Numbers, anywhere, budget_key
from hoistwright.examine.verdict import Judgement, Verdict
from hoistwright.examine.words import unit_for
from hoistwright.hoist.feature import catalogue
from hoistwright.metrology import Component
from hoistwright.quantity import Dimension, show

KNOWN = {
    "read": "text read",
    "memory": "from memory: compare with your copy",
    "practice": "common practice",
    "maker": "maker's own",
}
"""How we know a limit, in words."""


def numbers_of(verdicts: Sequence[Verdict]) -> Numbers:
    """Number the criteria and the budgets in the order in which the verdicts name them."""
    criteria: dict[Ruling, int] = {}
    budgets: dict[tuple[str, str, str, str], int] = {}
    for verdict in verdicts:
        if verdict.ruling is not None:
            criteria.setdefault(anywhere(verdict.ruling), len(criteria) + 1)
        if verdict.judgement is not None:
            budgets.setdefault(budget_key(verdict), len(budgets) + 1)
    return Numbers(criteria=criteria, budgets=budgets)


def criteria_list(numbers: Numbers) -> list[dict[str, Any]]:
    """Every criterion: what, limit, source, clause, edition, how known, and what stands beside."""
    return [
        {
            "number": number,
            **_statement(ruling.stands),
            "why": ruling.why,
            "action": ruling.action,
            "besides": [_statement(item) for item in ruling.shown_besides],
        }
        for ruling, number in numbers.criteria.items()
    ]


def _statement(item: Statement) -> dict[str, str]:
    limit = f"{item.comparison} {item.limit_text}" if item.limit_text else item.comparison
    taken = "" if item.of == "each" else f", {item.of}"
    return {
        "title": _title(item),
        "criterion": item.criterion or "maker",
        "limit": limit + taken,
        "source": item.source,
        "clause": item.clause or "clause not stated",
        "edition": item.edition or "edition not stated",
        "known": KNOWN[item.known],
        "since": item.since.isoformat() if item.since else "",
        "analogy": item.by_analogy,
        "note": item.note,
    }


def _title(item: Statement) -> str:
    """The title; that of a maker's limit does not say of what, so the kind of part goes before."""
    if item.by == "basis":
        return item.title
    role = catalogue().get(item.feature.partition(".")[0])
    return f"{role.name}: {item.title}" if role else item.title


def budget_list(verdicts: Sequence[Verdict], numbers: Numbers, units: str) -> list[dict[str, Any]]:
    """Every budget once, with the components that it is made of."""
    done: dict[int, dict[str, Any]] = {}
    for verdict in verdicts:
        number = numbers.budget(verdict)
        if number is not None and number not in done and verdict.judgement is not None:
            done[number] = _budget(number, verdict, verdict.judgement, units)
    return list(done.values())


def _budget(number: int, verdict: Verdict, judged: Judgement, units: str) -> dict[str, Any]:
    unit = unit_for(judged.dimension, units)
    return {
        "number": number,
        "title": f"{verdict.title}: {judged.name}",
        "u": _small(judged.uncertainty, judged.dimension, unit),
        "dof": _dof(judged.dof),
        "k": f"{judged.coverage_factor:.2f}",
        "expanded": _small(judged.expanded, judged.dimension, unit),
        "notes": list(judged.budget.notes),
        "components": [_component(item, judged, unit) for item in judged.budget.components],
    }


def _component(item: Component, judged: Judgement, unit: str) -> dict[str, str]:
    share = 100.0 * float(judged.budget.share(item))
    return {
        "name": item.name,
        "kind": item.kind,
        "contribution": _small(float(item.contribution), judged.dimension, unit),
        "share": f"{share:.0f} %" if share >= 1.0 else "< 1 %",
        "dof": _dof(float(item.dof)),
        "source": item.source,
    }


def _small(value: float, dimension: Dimension, unit: str) -> str:
    """An uncertainty with two significant digits."""
    return show(value, dimension, unit, uncertainty=value)


def _dof(value: float) -> str:
    return "∞" if not math.isfinite(value) or value > 9999 else f"{value:.0f}"
