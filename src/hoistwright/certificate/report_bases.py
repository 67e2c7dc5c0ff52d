"""The bases of a report: what was held against the hoist, in which state, by which rule."""

from __future__ import annotations

from typing import Any

from hoistwright.basis.model import Basis, Interval
from hoistwright.certificate.report_appendix import KNOWN
from hoistwright.certificate.writer import Writer
from hoistwright.examine.result import Examination
from hoistwright.examine.rules import decision_rule
from hoistwright.job.job_sheet import JobSheet


def bases_list(examination: Examination, sheet: JobSheet, w: Writer) -> list[dict[str, Any]]:
    """Each basis with its editions in use, its adoption, its decision rule and its intervals."""
    return [_basis(basis, examination, sheet, w) for basis in examination.bases]


def _basis(basis: Basis, examination: Examination, sheet: JobSheet, w: Writer) -> dict[str, Any]:
    state = next((item for item in examination.adoptions if item.basis == basis.key), None)
    return {
        "key": basis.key,
        "title": w.sentence(basis.head.title),
        "jurisdiction": w.sentence(basis.head.jurisdiction),
        "editions": _editions(basis.key, examination, w),
        "adopted": state is not None and state.holds,
        "adoption": w.sentence(state.sentence if state else NOT_ADOPTED % basis.key),
        "rule": w.sentence(decision_rule(basis.head.rule).words),
        "digest": basis.digest,
        "note": w.sentence(" ".join(basis.head.note.split())),
        "intervals": [_interval(i, basis, w) for i in basis.head.interval if _wanted(i, sheet)],
    }


NOT_ADOPTED = "The basis %s is not adopted."


def _editions(key: str, examination: Examination, w: Writer) -> list[str]:
    """Source and edition of every limit of the basis that was used."""
    used = (
        f"{w.sentence(statement.source)}{w.colon}{w.sentence(statement.edition)}"
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


def _interval(interval: Interval, basis: Basis, w: Writer) -> str:
    titles = {source.key: source.title for source in basis.sources}
    said = w.say(
        "%(name)s (%(kind)s): %(longest)s at most. "
        "%(source)s, %(clause)s, %(edition)s (%(known)s).",
        name=w.sentence(interval.name),
        kind=w.sentence(interval.kind),
        longest=_longest(interval, w),
        source=w.sentence(titles.get(interval.source, interval.source)),
        clause=w.sentence(interval.clause),
        edition=w.sentence(interval.edition),
        known=w.say(KNOWN[interval.known]),
    )
    return f"{said} {w.sentence(interval.note)}" if interval.note else said


def _longest(interval: Interval, w: Writer) -> str:
    """`3 months`, `7 days`."""
    count = w.language.count
    said = []
    if interval.months:
        said.append(count("%(number)s month", "%(number)s months", interval.months))
    if interval.days:
        said.append(count("%(number)s day", "%(number)s days", interval.days))
    return w.say(" and ").join(said)
