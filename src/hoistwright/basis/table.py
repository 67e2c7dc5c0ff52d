"""The criteria of bases as Markdown tables, for `docs/bases.md`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hoistwright.basis.model import Basis, Criterion, DatedLimit, Interval, LoadTest

BEGIN = "<!-- made from the basis files: begin -->"
END = "<!-- made from the basis files: end -->"


def refreshed(document: str, bases: Iterable[Basis]) -> str:
    """`document` with what stands between its two marks made anew.

    Raises ValueError where the marks are missing.
    """
    if BEGIN not in document or END not in document:
        raise ValueError(f"no place for the tables; expected the lines {BEGIN} and {END}")
    before, after = document.partition(BEGIN)[0], document.partition(END)[2]
    return f"{before}{BEGIN}\n\n{reference(bases)}\n{END}{after}"


def reference(bases: Iterable[Basis]) -> str:
    """One chapter per basis: what it says of itself, its criteria, intervals and tests."""
    return "\n".join(_chapter(basis) for basis in bases)


def criteria_table(criteria: Sequence[Criterion]) -> str:
    """One row per criterion; dated limits one after another, the oldest first."""
    rows = [
        (
            f"`{criterion.id}`",
            f"`{criterion.feature}`",
            _held(criterion),
            "; ".join(_limit(limit) for limit in _by_date(criterion)),
            _joined(f"{limit.source}, {limit.clause}" for limit in _by_date(criterion)),
            _joined(limit.known for limit in _by_date(criterion)),
        )
        for criterion in criteria
    ]
    return _table(("criterion", "feature", "how it is held", "limit", "source", "known"), rows)


def _chapter(basis: Basis) -> str:
    head = basis.head
    parts = [f"### {head.title}", f"Key `{head.key}`.", head.note.strip()]
    if basis.criteria:
        parts.append(criteria_table(basis.criteria))
    if head.interval:
        rows = [
            (i.name, i.kind, _period(i), f"{i.source}, {i.clause}", i.known) for i in head.interval
        ]
        parts.append(_table(("service", "examination", "at most", "source", "known"), rows))
    if head.load_test:
        tests = [
            (t.name, t.when, _load(t), f"{t.source}, {t.clause}", t.known) for t in head.load_test
        ]
        parts.append(_table(("test", "when", "load", "source", "known"), tests))
    if head.report_item:
        items = [(i.number, i.what, i.clause, i.known) for i in head.report_item]
        parts.append(_table(("no.", "what a report holds", "clause", "known"), items))
    if head.keeping:
        kept = [(k.what, k.until, k.clause, k.known) for k in head.keeping]
        parts.append(_table(("record", "kept until", "clause", "known"), kept))
    return "\n\n".join(part for part in parts if part) + "\n"


def _held(criterion: Criterion) -> str:
    if criterion.comparison == "in order":
        return "look"
    words: str = criterion.comparison
    if criterion.of != "each":
        words += f", {criterion.of}"
    return f"{words} (number check only)" if criterion.use == "number check" else words


def _by_date(criterion: Criterion) -> list[DatedLimit]:
    return sorted(criterion.limit, key=lambda limit: limit.since)


def _limit(limit: DatedLimit) -> str:
    until = f" until {limit.until}" if limit.until else ""
    return f"{limit.value or '–'} from {limit.since}{until}"


def _period(interval: Interval) -> str:
    return f"{interval.months} months" if interval.months else f"{interval.days} days"


def _load(test: LoadTest) -> str:
    loads = [share for share in (test.load_from, test.load_to) if share is not None]
    words = " to ".join(f"{100 * share:g} %" for share in loads)
    held = f", held {test.hold / 60:g} min" if test.hold else ""
    return (words or "none stated") + held


def _joined(words: Iterable[str]) -> str:
    """Each once, in order."""
    return "; ".join(dict.fromkeys(words))


def _table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [_row(heads), _row(["---"] * len(heads)), *(_row(row) for row in rows)]
    return "\n".join(lines)


def _row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"
