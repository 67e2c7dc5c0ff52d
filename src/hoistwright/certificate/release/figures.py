"""Every figure and every look of the examination, each with what it leans on, for the record."""

from __future__ import annotations

import math
from typing import Any

from hoistwright.certificate.release.values import Certificate
from hoistwright.examine.entries import Reading
from hoistwright.examine.result import Examination
from hoistwright.examine.verdict import Judgement, Verdict
from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.shop import Shop, TestWeight
from hoistwright.metrology import Gauge

FORMULAS = {
    "elongation": "(L − L_ref) / (n p)",
    "rise from as new": "(x − x_new) / x_new",
    "loss from as new": "(x_new − x) / x_new",
    "rise by": "x − x_new",
    "loss by": "x_new − x",
    "at most": "x",
    "at least": "x",
}
"""How what is judged follows from the mean of the readings, by comparison."""


def figures(
    certificate: Certificate, examination: Examination, sheet: JobSheet
) -> list[dict[str, Any]]:
    """Every measured verdict with its readings, gauge, formula, uncertainty, limit and clause."""
    stages = _stages(examination)
    measured = (v for v in examination.verdicts if v.measured)
    return [
        _figure(number, verdict, _state(verdict, certificate, stages), sheet)
        for number, verdict in enumerate(measured, start=1)
    ]


def looks(certificate: Certificate, examination: Examination) -> list[dict[str, Any]]:
    """Every look with its answer."""
    stages = _stages(examination)
    return [
        {
            **_common(verdict),
            "answer": verdict.answer or "not looked",
            "photo": verdict.photo,
            "state": _state(verdict, certificate, stages),
        }
        for verdict in examination.verdicts
        if not verdict.measured
    ]


def gauges(certificate: Certificate, sheet: JobSheet, shop: Shop) -> list[dict[str, Any]]:
    """Gauges and test weights that were used, for readings or for the proof, with calibration."""
    used = {reading.gauge for reading in sheet.readings if reading.gauge}
    named = {figure.gauge for test in certificate.tests for figure in test.figures}
    hung = {one.split(" × ")[0] for name in named if " × " in name for one in name.split(", ")}
    return [
        *(_gauge(g) for g in shop.all_gauges() if g.key in used or {g.key, g.name} & named),
        *(_test_weight(weight) for weight in shop.test_weights if weight.key in hung),
    ]


def _test_weight(weight: TestWeight) -> dict[str, Any]:
    return {
        "key": weight.key,
        "name": f"test weight {float(weight.mass):g} kg",
        "kind": "test weight",
        "certificate": "",
        "calibrated_on": None,
        "due_on": _day(weight.due_on),
        "calibration_uncertainty": _finite(float(weight.uncertainty)),
        "coverage_factor": 2.0,
    }


def _stages(examination: Examination) -> dict[tuple[str, str, str], str]:
    return {point.address: point.stage for point in examination.points}


def _state(
    verdict: Verdict, certificate: Certificate, stages: dict[tuple[str, str, str], str]
) -> str:
    """As found or as left; what was found on a part that was then renewed is told apart."""
    if stages.get((verdict.part, verdict.feature, verdict.place)) == "rebuilt":
        return "as left"
    work = {item.part: item.work for item in certificate.work}
    done = work.get(verdict.part)
    return f"as found, since {done}" if done else "as found and as left"


def _figure(number: int, verdict: Verdict, state: str, sheet: JobSheet) -> dict[str, Any]:
    new, ruling = verdict.baseline, verdict.ruling
    return {
        "id": f"F{number}",
        **_common(verdict),
        "state": state,
        "readings": [_reading(item) for item in sheet.readings if _belongs(item, verdict)],
        "gauge": verdict.gauge,
        "dimension": verdict.dimension.value,
        "as_new": None if new is None else _finite(new.value),
        "as_new_source": "" if new is None else new.source,
        "formula": FORMULAS.get(ruling.comparison, "") if ruling else "",
        "judged": None if verdict.judgement is None else _judged(verdict.judgement),
    }


def _common(verdict: Verdict) -> dict[str, Any]:
    ruling = verdict.ruling
    return {
        "part": verdict.part,
        "part_name": verdict.part_name,
        "feature": verdict.feature,
        "feature_name": verdict.feature_name,
        "place": verdict.place,
        "outcome": verdict.outcome.words,
        "why": verdict.why,
        "remark": verdict.remark,
        "by": verdict.by,
        "criterion": None
        if ruling is None
        else {
            "id": ruling.id,
            "comparison": ruling.comparison,
            "limit": ruling.limit_text,
            "source": ruling.source,
            "clause": ruling.clause,
            "edition": ruling.edition,
            "known": ruling.known,
        },
    }


def _judged(judged: Judgement) -> dict[str, Any]:
    return {
        "quantity": judged.name,
        "dimension": judged.dimension.value,
        "mean": _finite(judged.reading),
        "mean_uncertainty": _finite(judged.reading_uncertainty),
        "value": _finite(judged.value),
        "standard_uncertainty": _finite(judged.uncertainty),
        "coverage_factor": _finite(judged.coverage_factor),
        "expanded_uncertainty": _finite(judged.expanded),
        "limit": _finite(judged.limit),
        "side": "at most" if judged.upper else "at least",
        "guard_band": _finite(judged.guard),
        "acceptance_limit": _finite(judged.acceptance_limit),
        "probability_beyond": _finite(judged.probability),
        "budget": [
            {
                "name": item.name,
                "kind": item.kind,
                "contribution": _finite(float(item.contribution)),
                "source": item.source,
            }
            for item in judged.budget.components
        ],
    }


def _belongs(reading: Reading, verdict: Verdict) -> bool:
    if (reading.part, reading.feature) != (verdict.part, verdict.feature):
        return False
    whole = not verdict.place or reading.place == verdict.place
    return whole or reading.place.startswith(f"{verdict.place} ")


def _reading(reading: Reading) -> dict[str, Any]:
    return {
        "place": reading.place,
        "values": [_finite(value) for value in reading.values],
        "unit_typed": reading.unit,
        "gauge": reading.gauge,
        "links": reading.links,
        "by": reading.by,
        "remark": reading.remark,
    }


def _gauge(gauge: Gauge) -> dict[str, Any]:
    return {
        "key": gauge.key,
        "name": gauge.name,
        "kind": gauge.kind,
        "certificate": gauge.certificate,
        "calibrated_on": _day(gauge.calibrated_on),
        "due_on": _day(gauge.due_on),
        "calibration_uncertainty": _finite(float(gauge.calibration_uncertainty)),
        "coverage_factor": _finite(float(gauge.coverage_factor)),
    }


def _day(day: object) -> str | None:
    return None if day is None else str(day)


def _finite(value: float) -> float | None:
    """JSON knows neither infinity nor not-a-number."""
    return value if math.isfinite(value) else None
