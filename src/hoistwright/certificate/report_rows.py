"""The rows of a report: one for each verdict, with every figure it leans on, as text."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import attrs

from hoistwright.basis.rulings import Ruling
from hoistwright.certificate.ruler_svg import ruler_svg
from hoistwright.examine.entries import Reading
from hoistwright.examine.result import Examination
from hoistwright.examine.ruler import ruler
from hoistwright.examine.verdict import Judgement, Verdict
from hoistwright.examine.words import (
    judged_text,
    limit_text,
    probability_text,
    shown,
    unit_for,
)
from hoistwright.job.job_sheet import JobSheet
from hoistwright.metrology import Outcome
from hoistwright.quantity import in_unit, show_interval

READING_K = 2.0
"""Coverage factor of the U printed beside a reading; the judged figure carries its own k."""


@attrs.frozen(kw_only=True)
class Numbers:
    """Numbers of the criteria and budgets in a report's appendices, by what they stand for."""

    criteria: Mapping[Ruling, int]
    budgets: Mapping[tuple[str, str, str, str], int]

    def criterion(self, verdict: Verdict) -> int | None:
        return None if verdict.ruling is None else self.criteria[anywhere(verdict.ruling)]

    def budget(self, verdict: Verdict) -> int | None:
        return self.budgets.get(budget_key(verdict))


def anywhere(ruling: Ruling) -> Ruling:
    """The ruling without the part it is over: the same criterion over two hooks is one entry."""
    return attrs.evolve(ruling, id="", part="")


def budget_key(verdict: Verdict) -> tuple[str, str, str, str]:
    """Verdicts with the same key lean on the same budget."""
    name = verdict.judgement.name if verdict.judgement else ""
    return verdict.part, verdict.feature, verdict.place, name


def part_blocks(
    examination: Examination, sheet: JobSheet, numbers: Numbers
) -> list[dict[str, Any]]:
    """Every part with its rows, the worst part first."""
    return [
        {
            "name": part.name,
            **sign(part.outcome),
            "rows": [row(verdict, sheet, numbers) for verdict in part.verdicts],
        }
        for part in examination.parts
    ]


def sign(outcome: Outcome) -> dict[str, str]:
    """Key of the drawn sign, and the word beside it."""
    return {"sign": outcome.name.lower(), "word": outcome.words}


def row(verdict: Verdict, sheet: JobSheet, numbers: Numbers) -> dict[str, Any]:
    """One verdict, ready to print."""
    common = {
        **sign(verdict.outcome),
        "name": verdict.feature_name,
        "place": verdict.place,
        "ref": numbers.criterion(verdict),
        "limit": limit_text(verdict, sheet.units),
        "why": verdict.why,
        "next": "" if verdict.outcome is Outcome.FIT else verdict.next_step,
        "remark": verdict.remark,
        "photo": verdict.photo,
        "by": "" if verdict.by == sheet.work.examined_by else verdict.by,
        "measured": verdict.measured,
    }
    return {**common, **(_measured if verdict.measured else _looked)(verdict, sheet, numbers)}


def brief_row(verdict: Verdict, sheet: JobSheet, numbers: Numbers) -> dict[str, Any]:
    """One verdict in the summary."""
    judged = verdict.judgement
    figures = judged_text(verdict, sheet.units) if judged else verdict.why
    return {
        **sign(verdict.outcome),
        "title": verdict.title,
        "figures": figures,
        "limit": limit_text(verdict, sheet.units) if judged else "",
        "ref": numbers.criterion(verdict),
        "probability": probability_text(verdict) if judged else "",
        "next": verdict.next_step,
    }


def _looked(verdict: Verdict, sheet: JobSheet, numbers: Numbers) -> dict[str, Any]:
    return {"answer": verdict.answer or "not looked"}


def _measured(verdict: Verdict, sheet: JobSheet, numbers: Numbers) -> dict[str, Any]:
    judged, new = verdict.judgement, verdict.baseline
    drawn = ruler(verdict)
    return {
        "repeats": _repeats(verdict, sheet),
        "gauge": verdict.gauge or "none named",
        "reading": _reading(verdict, sheet),
        "as_new": "not stated" if new is None else shown(new.value, verdict.dimension, sheet.units),
        "as_new_source": "" if new is None else new.source,
        "judged": "" if judged is None else _judged(judged, sheet.units),
        "k": "" if judged is None else f"{judged.coverage_factor:.2f}",
        "acceptance": "" if judged is None else _acceptance(judged, sheet.units),
        "probability": probability_text(verdict) if judged else "",
        "budget": numbers.budget(verdict),
        "ruler": ruler_svg(drawn) if drawn else "",
        "alt": f"Wear ruler: {_alt(verdict, sheet.units)}",
    }


def _reading(verdict: Verdict, sheet: JobSheet) -> str:
    """The mean of the repeats with U, or what was read where it cannot be used."""
    judged = verdict.judgement
    if judged is None:
        return "not established" if _repeats(verdict, sheet) else "no reading"
    unit = unit_for(verdict.dimension, sheet.units)
    spread = READING_K * judged.reading_uncertainty
    return show_interval(judged.reading, spread, verdict.dimension, unit)


def _judged(judged: Judgement, units: str) -> str:
    """What is held against the limit, with its own U."""
    unit = unit_for(judged.dimension, units)
    return f"{judged.name} {show_interval(judged.value, judged.expanded, judged.dimension, unit)}"


def _acceptance(judged: Judgement, units: str) -> str:
    """Where "fit" begins: the limit less the guard band."""
    edge = shown(judged.acceptance_limit, judged.dimension, units, judged.uncertainty)
    return f"fit {'up to' if judged.upper else 'from'} {edge}"


def _alt(verdict: Verdict, units: str) -> str:
    if verdict.judgement is None:
        return f"{verdict.title}, not established, limit {limit_text(verdict, units)}"
    return (
        f"{verdict.title}, {verdict.outcome.words}, {judged_text(verdict, units)}, "
        f"limit {limit_text(verdict, units)}"
    )


def _repeats(verdict: Verdict, sheet: JobSheet) -> str:
    """Every single reading behind the verdict, as typed, in its own unit."""
    found = [reading for reading in sheet.readings if _belongs(reading, verdict)]
    texts = []
    for reading in found:
        where = reading.place.removeprefix(verdict.place).strip()
        label = f"{where}: " if where else ""
        texts.append(label + _series(reading, verdict))
    return "; ".join(texts)


def _belongs(reading: Reading, verdict: Verdict) -> bool:
    if (reading.part, reading.feature) != (verdict.part, verdict.feature):
        return False
    return (
        not verdict.place
        or reading.place == verdict.place
        or reading.place.startswith(f"{verdict.place} ")
    )


def _series(reading: Reading, verdict: Verdict) -> str:
    """`8.01, 8.02, 8.013 mm`: with all the digits that were typed."""
    figures = (in_unit(value, verdict.dimension, reading.unit) for value in reading.values)
    space = "" if reading.unit == "°" else " "
    return ", ".join(f"{figure:.9g}" for figure in figures) + space + reading.unit
