"""From a fact to a figure, or to a remark that says why there is none."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from hoistwright.check.facts import Fact
from hoistwright.check.how_to_find import how_to_find
from hoistwright.check.model import Figure, Finding, Remark, Sense, Severity
from hoistwright.quantity import Dimension


@attrs.frozen(kw_only=True)
class Bound:
    """What a figure is held against; an unknown bound leaves the figure without limit."""

    sense: Sense
    fact: Fact
    source: str
    severity: Severity | None = "wrong"
    """None: the bound is shown beside the figure, and breaking it is no remark."""
    shown: bool = False
    """Shown beside the figure; without any, the first bound is."""
    key: str = ""
    """The design's key to look at when it is broken."""
    mend: str = ""


@attrs.frozen(kw_only=True)
class Row:
    """What a figure is called, how it is shown and where its formula is from."""

    key: str
    name: str
    dimension: Dimension
    unit: str
    how: str
    source: str
    note: str = ""


def findings(row: Row, fact: Fact, *bounds: Bound) -> Iterator[Finding]:
    """The figure of `row`, and a remark on the first of its bounds that it breaks."""
    if not fact.known:
        yield _no_figure(row, fact)
        return
    yield _figure(row, fact, _shown(bounds))
    for bound in bounds:
        held = _figure(row, fact, bound)
        if held.keeps_limit is False and bound.severity is not None:
            yield _broken(held, bound, bound.severity)
            return


def _shown(bounds: Sequence[Bound]) -> Bound | None:
    marked = [bound for bound in bounds if bound.shown]
    return next(iter([*marked, *bounds]), None)


def _figure(row: Row, fact: Fact, bound: Bound | None) -> Figure:
    assert fact.value is not None
    plain = attrs.asdict(row, recurse=False)
    if bound is None or bound.fact.value is None:
        return Figure(value=fact.value, **plain)
    return Figure(
        value=fact.value,
        limit=bound.fact.value,
        limit_is=bound.sense,
        limit_source=bound.source,
        **plain,
    )


def _broken(figure: Figure, bound: Bound, severity: Severity) -> Remark:
    return Remark(
        severity=severity,
        key=bound.key or figure.key,
        read=f"{figure.name} {figure.text}",
        expected=f"{figure.limit_text} ({bound.source})",
        mend=bound.mend,
    )


def _no_figure(row: Row, fact: Fact) -> Remark:
    if fact.refused:
        mend = "Correct the figures that it is derived from."
        return Remark(
            severity="wrong", key=row.key, read=fact.refused, expected=row.name, mend=mend
        )
    return Remark(
        severity="unknown",
        key=row.key,
        read="nothing at " + ", ".join(fact.lacking),
        expected=row.name,
        mend=how_to_find(fact.lacking),
        missing=fact.lacking,
    )
