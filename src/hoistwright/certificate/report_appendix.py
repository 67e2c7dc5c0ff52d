"""The appendices of a report: every criterion with its source, every uncertainty budget."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from hoistwright.basis.rulings import Ruling, Statement
from hoistwright.certificate.report_rows import Numbers, anywhere, budget_key
from hoistwright.certificate.writer import Writer
from hoistwright.examine.verdict import Judgement, Verdict
from hoistwright.hoist.feature import catalogue
from hoistwright.metrology import Component
from hoistwright.quantity import Dimension

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


def criteria_list(numbers: Numbers, w: Writer) -> list[dict[str, Any]]:
    """Every criterion: what, limit, source, clause, edition, how known, and what stands beside."""
    return [
        {
            "number": number,
            **_statement(ruling.stands, w),
            "why": w.sentence(ruling.why),
            "action": w.sentence(ruling.action),
            "besides": [_statement(item, w) for item in ruling.shown_besides],
        }
        for ruling, number in numbers.criteria.items()
    ]


def _statement(item: Statement, w: Writer) -> dict[str, Any]:
    limit = w.say(item.comparison)
    if item.limit_text:
        limit += f" {w.sentence(item.limit_text)}"
    if item.of != "each":
        limit += f", {w.say(item.of)}"
    return {
        "title": w.sentence(_title(item)),
        "criterion": item.criterion or w.say("maker"),
        "limit": limit,
        "look": item.comparison == "in order" and item.of == "each",
        "source": w.sentence(item.source),
        "clause": w.sentence(item.clause) or w.say("clause not stated"),
        "edition": w.sentence(item.edition) or w.say("edition not stated"),
        "known": w.say(KNOWN[item.known]),
        "since": item.since.isoformat() if item.since else "",
        "analogy": w.sentence(item.by_analogy),
        "note": w.sentence(item.note),
    }


def _title(item: Statement) -> str:
    """The title; that of a maker's limit does not say of what, so the kind of part goes before."""
    if item.by == "basis":
        return item.title
    role = catalogue().get(item.feature.partition(".")[0])
    return f"{role.name}: {item.title}" if role else item.title


def budget_list(verdicts: Sequence[Verdict], numbers: Numbers, w: Writer) -> list[dict[str, Any]]:
    """Every budget once, with the components that it is made of."""
    done: dict[int, dict[str, Any]] = {}
    for verdict in verdicts:
        number = numbers.budget(verdict)
        if number is not None and number not in done and verdict.judgement is not None:
            done[number] = _budget(number, verdict, verdict.judgement, w)
    return list(done.values())


def _budget(number: int, verdict: Verdict, judged: Judgement, w: Writer) -> dict[str, Any]:
    return {
        "number": number,
        "title": f"{w.sentence(verdict.title)}{w.colon}{w.say(judged.name)}",
        "u": _small(judged.uncertainty, judged.dimension, w),
        "dof": _dof(judged.dof),
        "k": w.factor(judged.coverage_factor),
        "expanded": _small(judged.expanded, judged.dimension, w),
        "notes": [w.sentence(note) for note in judged.budget.notes],
        "components": [_component(item, judged, w) for item in judged.budget.components],
    }


def _component(item: Component, judged: Judgement, w: Writer) -> dict[str, str]:
    share = 100.0 * float(judged.budget.share(item))
    return {
        "name": w.sentence(item.name),
        "kind": item.kind,
        "contribution": _small(float(item.contribution), judged.dimension, w),
        "share": f"{share:.0f} %" if share >= 1.0 else "< 1 %",
        "dof": _dof(float(item.dof)),
        "source": w.sentence(item.source),
    }


def _small(value: float, dimension: Dimension, w: Writer) -> str:
    """An uncertainty with two significant digits."""
    return w.figure(value, dimension, value)


def _dof(value: float) -> str:
    return "∞" if not math.isfinite(value) or value > 9999 else f"{value:.0f}"
