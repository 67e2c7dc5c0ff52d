"""The report of examination: everything that was found, and what every figure leans on."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Mapping
from typing import Any

from hoistwright import __version__
from hoistwright.certificate.cautions import general_cautions, part_cautions
from hoistwright.certificate.report_appendix import budget_list, criteria_list, numbers_of
from hoistwright.certificate.report_bases import bases_list
from hoistwright.certificate.report_head import head, people
from hoistwright.certificate.report_rows import Numbers, brief_row, part_blocks, sign
from hoistwright.certificate.report_splits import split_list
from hoistwright.certificate.typeset import Paper, typeset
from hoistwright.certificate.writer import Writer
from hoistwright.examine.result import Examination
from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.shop import Shop
from hoistwright.language import language, marked
from hoistwright.metrology import Outcome

IN_BRIEF = 8
"""Rows of the summary, fewer where findings take their room. What else is not fit is counted."""

RUNNING = 64
"""Characters of the hoist's name that the head of a page has room for."""

IS_NOT = (
    marked("This report is not a certificate of release and does not permit use of the hoist."),
    marked("It is advice to a competent person. A named competent person decides and signs."),
    marked("The maker's manual and the law of the place where the hoist is used come first."),
)


def report_data(
    examination: Examination, sheet: JobSheet, shop: Shop | None, lang: str = "en"
) -> dict[str, Any]:
    """Everything that the report prints, as plain JSON values. Pure: same input, same data.

    Args:
        examination: what came of the readings.
        sheet: the job sheet they stand on, for identity and single readings.
        shop: for names, qualifications and the address; None where there is no shop file.
        lang: the paper's language. What people typed stays as they typed it.
    """
    w = Writer(language(lang), sheet.units)
    verdicts = [verdict for part in examination.parts for verdict in part.verdicts]
    numbers = numbers_of(verdicts)
    return {
        "lang": lang,
        "title": w.say("Report of examination"),
        "job": sheet.job,
        "running": _running(sheet, w),
        "examined_on": sheet.work.examined_on.isoformat(),
        "software": f"Hoistwright {__version__}",
        "is_not": [w.say(text) for text in IS_NOT],
        **head(examination, sheet, shop, w),
        "outcome": {**sign(examination.outcome, w), "sentence": _overall(examination, w)},
        "counts": _counts(examination, w),
        "findings": _findings(examination, w),
        "brief": _brief(examination, sheet, numbers, w),
        "bases": bases_list(examination, sheet, w),
        "maker_rule": w.sentence(examination.rule.words),
        "splits": split_list(examination, w),
        "parts": part_blocks(examination, sheet, numbers, w),
        "not_established": _missing(examination, w),
        "cautions": {
            "general": general_cautions(w.language),
            "parts": part_cautions(examination.points, w.language),
        },
        "people": people(sheet, shop, w),
        "criteria": criteria_list(numbers, w),
        "budgets": budget_list(verdicts, numbers, w),
    }


def render_report(data: Mapping[str, Any], paper: Paper = "a4") -> bytes:
    """The report as PDF. `data` comes from `report_data`; `paper` is "a4" or "us-letter"."""
    day = datetime.date.fromisoformat(data["examined_on"])
    return typeset("report", data, day=day, paper=paper)


def _running(sheet: JobSheet, w: Writer) -> str:
    """Hoist and serial number for the head of every page."""
    hoist = sheet.hoist
    serial = w.say("serial %(serial)s", serial=hoist.serial)
    if not hoist.serial:
        serial = w.say("serial not stated")
    whole = ", ".join(item for item in (f"{hoist.maker} {hoist.model}".strip(), serial) if item)
    return whole if len(whole) <= RUNNING else f"{whole[: RUNNING - 1]}…"


def _overall(examination: Examination, w: Writer) -> str:
    words = {
        Outcome.FIT: marked("Everything that was asked for was examined and found fit."),
        Outcome.BORDERLINE: marked(
            "At least one part lies within its uncertainty of a limit, or a finding asks for a "
            "competent person."
        ),
        Outcome.NOT_ESTABLISHED: marked(
            "Something that has to be known is missing. Unknown is not fit."
        ),
        Outcome.RENEW: marked("At least one part is beyond its limit or defective."),
    }
    said = [w.say(words[examination.outcome])]
    if not examination.adopted:
        said.append(
            w.say("Not every basis used is adopted by this shop: no verdict can release a hoist.")
        )
    return " ".join(said)


def _counts(examination: Examination, w: Writer) -> list[dict[str, Any]]:
    count = Counter(verdict.outcome for verdict in examination.verdicts)
    order = (Outcome.RENEW, Outcome.NOT_ESTABLISHED, Outcome.BORDERLINE, Outcome.FIT)
    return [{**sign(outcome, w), "count": count[outcome]} for outcome in order]


def _findings(examination: Examination, w: Writer) -> list[dict[str, str]]:
    return [
        {
            **sign(finding.outcome, w),
            "title": w.sentence(finding.title),
            "sentence": w.sentence(finding.sentence),
            "next": w.sentence(finding.next_step),
        }
        for finding in examination.findings
    ]


def _brief(
    examination: Examination, sheet: JobSheet, numbers: Numbers, w: Writer
) -> dict[str, Any]:
    unfit = [v for v in examination.worst_first if v.outcome is not Outcome.FIT]
    room = max(IN_BRIEF - max(0, len(examination.findings) - 2), IN_BRIEF // 2)
    rows = [brief_row(verdict, sheet, numbers, w) for verdict in unfit[:room]]
    return {"rows": rows, "left": len(unfit) - len(rows)}


def _missing(examination: Examination, w: Writer) -> list[dict[str, str]]:
    return [
        {
            "title": w.sentence(verdict.title),
            "why": w.sentence(verdict.why),
            "next": w.sentence(verdict.next_step),
        }
        for verdict in examination.not_established
    ]
