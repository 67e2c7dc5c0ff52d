"""An examination as plain JSON values, for other programs."""

from __future__ import annotations

import math
from typing import Any

from hoistwright.examine.result import Examination
from hoistwright.examine.verdict import Judgement, Verdict
from hoistwright.job.job_sheet import JobSheet

FORMAT = 1


def examination_record(examination: Examination, sheet: JobSheet) -> dict[str, Any]:
    """Everything that was found, figures in SI; what is not established is null."""
    return {
        "format": FORMAT,
        "job": sheet.job,
        "design": examination.design.key,
        "serial": sheet.hoist.serial,
        "customer": sheet.customer.name,
        "examined_on": examination.day.isoformat(),
        "examined_by": sheet.work.examined_by,
        "bases": [
            {"key": basis.key, "digest": basis.digest, "adopted": _adopted(examination, basis.key)}
            for basis in examination.bases
        ],
        "rule": examination.rule.words,
        "outcome": examination.outcome.words,
        "findings": [
            {
                "title": f.title,
                "outcome": f.outcome.words,
                "sentence": f.sentence,
                "next_step": f.next_step,
            }
            for f in examination.findings
        ],
        "chain_splits": [
            {
                "place": item.place,
                "elongation": _figure(item.elongation),
                "wear": _figure(item.wear),
                "stretch": _figure(item.stretch),
                "stretch_uncertainty": _figure(item.stretch_uncertainty),
                "kind": item.kind.value,
            }
            for item in examination.splits
        ],
        "verdicts": [_verdict(verdict) for verdict in examination.worst_first],
    }


def _adopted(examination: Examination, key: str) -> bool:
    return any(state.basis == key and state.holds for state in examination.adoptions)


def _verdict(verdict: Verdict) -> dict[str, Any]:
    ruling = verdict.ruling
    return {
        "part": verdict.part,
        "feature": verdict.feature,
        "place": verdict.place,
        "outcome": verdict.outcome.words,
        "why": verdict.why,
        "next_step": verdict.next_step,
        "answer": verdict.answer,
        "gauge": verdict.gauge,
        "remark": verdict.remark,
        "limit": None
        if ruling is None
        else {
            "ruling": ruling.id,
            "comparison": ruling.comparison,
            "text": ruling.limit_text,
            "source": ruling.source,
            "clause": ruling.clause,
            "edition": ruling.edition,
            "known": ruling.known,
        },
        "judged": None if verdict.judgement is None else _judged(verdict.judgement),
    }


def _judged(judged: Judgement) -> dict[str, Any]:
    return {
        "quantity": judged.name,
        "reading": _figure(judged.reading),
        "value": _figure(judged.value),
        "standard_uncertainty": _figure(judged.uncertainty),
        "degrees_of_freedom": _figure(judged.dof),
        "coverage_factor": _figure(judged.coverage_factor),
        "limit": _figure(judged.limit),
        "guard_band": _figure(judged.guard),
        "acceptance_limit": _figure(judged.acceptance_limit),
        "probability_beyond": _figure(judged.probability),
    }


def _figure(value: float) -> float | None:
    """JSON knows neither infinity nor not-a-number."""
    return value if math.isfinite(value) else None
