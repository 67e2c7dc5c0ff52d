"""The bases of a report: what was held against the hoist, in which state, by which rule."""

from __future__ import annotations

from typing import Any

from hoistwright.basis.model import Basis, Interval
from hoistwright.certificate.report_appendix import KNOWN
from hoistwright.examine.result import Examination
from hoistwright.examine.rules import decision_rule
from hoistwright.job.job_sheet import JobSheet


def bases_list(examination: Examination, sheet: JobSheet) -> list[dict[str, Any]]:
    """Each basis with its editions in use, its adoption, its decision rule and its intervals."""
    return [_basis(basis, examination, sheet) for basis in examination.bases]


def _basis(basis: Basis, examination: Examination, sheet: JobSheet) -> dict[str, Any]:
    state = next((item for item in examination.adoptions if item.basis == basis.key), None)
    return {
        "key": basis.key,
        "title": basis.head.title,
        "jurisdiction": basis.head.jurisdiction,
        "editions": _editions(basis.key, examination),
        "adopted": state is not None and state.holds,
        "adoption": state.sentence if state else f"The basis {basis.key} is not adopted.",
        "rule": decision_rule(basis.head.rule).words,
        "digest": basis.digest,
        "note": " ".join(basis.head.note.split()),
        "intervals": [_interval(i, basis) for i in basis.head.interval if _wanted(i, sheet)],
    }


def _editions(key: str, examination: Examination) -> list[str]:
    """Source and edition of every limit of the basis that was used."""
    used = (
        f"{statement.source}: {statement.edition}"
        for verdict in examination.verdicts
        if verdict.ruling is not None
        for statement in (verdict.ruling.stands, *verdict.ruling.shown_besides)
        if statement.basis == key
    )
    return list(dict.fromkeys(used))


def _wanted(interval: Interval, sheet: JobSheet) -> bool:
    """Intervals of the hoist's own service class, and those that know no service class."""
    classes = ("normal", "heavy", "severe")
    named = [word for word in classes if word in interval.name]
    return not named or sheet.work.service in named


def _interval(interval: Interval, basis: Basis) -> str:
    titles = {source.key: source.title for source in basis.sources}
    source = titles.get(interval.source, interval.source)
    note = f" {interval.note}" if interval.note else ""
    return (
        f"{interval.name} ({interval.kind}): {_longest(interval)} at most. {source}, "
        f"{interval.clause}, {interval.edition} ({KNOWN[interval.known]}).{note}"
    )


def _longest(interval: Interval) -> str:
    """`3 months`, `7 days`."""
    counts = ((interval.months, "month"), (interval.days, "day"))
    return " and ".join(f"{n} {word}{'' if n == 1 else 's'}" for n, word in counts if n)
