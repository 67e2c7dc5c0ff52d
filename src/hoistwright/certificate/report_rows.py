"""The rows of a report: one for each verdict, with every figure it leans on, as text."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import attrs

from hoistwright.basis.rulings import Ruling
from hoistwright.certificate.ruler_svg import ruler_svg
from hoistwright.certificate.writer import Writer
from hoistwright.examine.entries import Reading
from hoistwright.examine.result import Examination
from hoistwright.examine.ruler import ruler
from hoistwright.examine.verdict import Judgement, Verdict
from hoistwright.examine.words import judged_text, limit_text, probability_text
from hoistwright.job.job_sheet import JobSheet
from hoistwright.metrology import Outcome
from hoistwright.quantity import in_unit

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


BRIEF_REMARK = 120
"""Characters of a remark that the summary has room for."""


def anywhere(ruling: Ruling) -> Ruling:
    """The ruling without the part it is over: the same criterion over two hooks is one entry."""
    return attrs.evolve(ruling, id="", part="")


def budget_key(verdict: Verdict) -> tuple[str, str, str, str]:
    """Verdicts with the same key lean on the same budget."""
    name = verdict.judgement.name if verdict.judgement else ""
    return verdict.part, verdict.feature, verdict.place, name


def part_blocks(
    examination: Examination, sheet: JobSheet, numbers: Numbers, w: Writer
) -> list[dict[str, Any]]:
    """Every part with its rows, the worst part first."""
    return [
        {
            "name": w.sentence(part.name),
            **sign(part.outcome, w),
            "rows": [row(verdict, sheet, numbers, w) for verdict in part.verdicts],
        }
        for part in examination.parts
    ]


def sign(outcome: Outcome, w: Writer) -> dict[str, str]:
    """Key of the drawn sign, and the word beside it."""
    return {"sign": outcome.name.lower(), "word": w.say(outcome.words)}


def row(verdict: Verdict, sheet: JobSheet, numbers: Numbers, w: Writer) -> dict[str, Any]:
    """One verdict, ready to print."""
    common = {
        **sign(verdict.outcome, w),
        "name": w.sentence(verdict.feature_name),
        "place": w.sentence(verdict.place),
        "ref": numbers.criterion(verdict),
        "limit": _limit(verdict, w),
        "why": w.sentence(verdict.why),
        "next": "" if verdict.outcome is Outcome.FIT else w.sentence(verdict.next_step),
        "remark": verdict.remark,
        "photo": verdict.photo,
        "by": "" if verdict.by == sheet.work.examined_by else verdict.by,
        "measured": verdict.measured,
    }
    own = _measured(verdict, sheet, numbers, w) if verdict.measured else _looked(verdict, w)
    return {**common, **own}


def brief_row(verdict: Verdict, sheet: JobSheet, numbers: Numbers, w: Writer) -> dict[str, Any]:
    """One verdict in the summary."""
    judged = verdict.judgement
    return {
        **sign(verdict.outcome, w),
        "title": w.sentence(verdict.title),
        "figures": w.sentence(judged_text(verdict, w.units)) if judged else _seen(verdict, w),
        "limit": _limit(verdict, w) if judged else "",
        "ref": numbers.criterion(verdict),
        "probability": _probability(verdict, w),
        "next": w.sentence(verdict.next_step),
    }


def _seen(verdict: Verdict, w: Writer) -> str:
    """Why a look is not fit, and what whoever looked wrote of it; all of it stands by the part."""
    said = verdict.remark
    said = said if len(said) <= BRIEF_REMARK else f"{said[: BRIEF_REMARK - 1]}…"
    return w.colon.join(text for text in (w.sentence(verdict.why), said) if text)


def _limit(verdict: Verdict, w: Writer) -> str:
    return w.sentence(limit_text(verdict, w.units))


def _probability(verdict: Verdict, w: Writer) -> str:
    return w.sentence(probability_text(verdict)) if verdict.judgement else ""


def _looked(verdict: Verdict, w: Writer) -> dict[str, Any]:
    return {"answer": w.say(verdict.answer or "not looked")}


def _measured(verdict: Verdict, sheet: JobSheet, numbers: Numbers, w: Writer) -> dict[str, Any]:
    judged, new = verdict.judgement, verdict.baseline
    drawn = ruler(verdict)
    return {
        "repeats": _repeats(verdict, sheet, w),
        "gauge": verdict.gauge or w.say("none named"),
        "reading": _reading(verdict, sheet, w),
        "as_new": w.stated("") if new is None else w.figure(new.value, verdict.dimension),
        "as_new_source": "" if new is None else w.sentence(new.source),
        "judged": "" if judged is None else _judged(judged, w),
        "k": "" if judged is None else w.factor(judged.coverage_factor),
        "acceptance": "" if judged is None else _acceptance(judged, w),
        "probability": _probability(verdict, w),
        "budget": numbers.budget(verdict),
        "ruler": ruler_svg(drawn) if drawn else "",
        "alt": w.say("Wear ruler: %(what)s", what=_alt(verdict, w)),
    }


def _reading(verdict: Verdict, sheet: JobSheet, w: Writer) -> str:
    """The mean of the repeats with U, or what was read where it cannot be used."""
    judged = verdict.judgement
    if judged is None:
        return w.say("not established" if _repeats(verdict, sheet, w) else "no reading")
    spread = READING_K * judged.reading_uncertainty
    return w.interval(judged.reading, spread, verdict.dimension)


def _judged(judged: Judgement, w: Writer) -> str:
    """What is held against the limit, with its own U."""
    interval = w.interval(judged.value, judged.expanded, judged.dimension)
    return f"{w.say(judged.name)} {interval}"


def _acceptance(judged: Judgement, w: Writer) -> str:
    """Where "fit" begins: the limit less the guard band."""
    edge = w.figure(judged.acceptance_limit, judged.dimension, judged.uncertainty)
    return w.say("fit up to %(edge)s" if judged.upper else "fit from %(edge)s", edge=edge)


def _alt(verdict: Verdict, w: Writer) -> str:
    """What the ruler shows, for those who cannot see it."""
    limit = w.say("limit %(limit)s", limit=_limit(verdict, w))
    said = [w.sentence(verdict.title), w.say(verdict.outcome.words)]
    if verdict.judgement is not None:
        said.append(w.sentence(judged_text(verdict, w.units)))
    return ", ".join([*said, limit])


def _repeats(verdict: Verdict, sheet: JobSheet, w: Writer) -> str:
    """Every single reading behind the verdict, as typed, in its own unit."""
    found = [reading for reading in sheet.readings if _belongs(reading, verdict)]
    texts = []
    for reading in found:
        where = reading.place.removeprefix(verdict.place).strip()
        label = f"{w.sentence(where)}{w.colon}" if where else ""
        texts.append(label + _series(reading, verdict, w))
    return "; ".join(texts)


def _belongs(reading: Reading, verdict: Verdict) -> bool:
    if (reading.part, reading.feature) != (verdict.part, verdict.feature):
        return False
    return (
        not verdict.place
        or reading.place == verdict.place
        or reading.place.startswith(f"{verdict.place} ")
    )


def _series(reading: Reading, verdict: Verdict, w: Writer) -> str:
    """`8.01, 8.02, 8.013 mm`: with all the digits that were typed."""
    figures = (in_unit(value, verdict.dimension, reading.unit) for value in reading.values)
    space = "" if reading.unit == "°" else " "
    typed = (f"{figure:.9g}".replace(".", w.language.decimal) for figure in figures)
    return w.list_mark.join(typed) + space + reading.unit
