"""A verdict's figures and sentences for people, in their units."""

from __future__ import annotations

import math

from hoistwright.examine.verdict import Verdict
from hoistwright.quantity import Dimension, show

_UNITS = {
    Dimension.LENGTH: {"mm": "mm", "in": "in"},
    Dimension.ANGLE: {"mm": "°", "in": "°"},
    Dimension.FORCE: {"mm": "N", "in": "lbf"},
    Dimension.MASS: {"mm": "kg", "in": "lb"},
    Dimension.RATIO: {"mm": "%", "in": "%"},
    Dimension.NUMBER: {"mm": "", "in": ""},
}


def unit_for(dimension: Dimension, units: str = "mm") -> str:
    """The unit a quantity is shown in on a metric ("mm") or an inch ("in") sheet."""
    return _UNITS[dimension][units]


def shown(value: float, dimension: Dimension, units: str, uncertainty: float | None = None) -> str:
    """A figure with its unit, digits ruled by its uncertainty where one is given."""
    if math.isnan(value):  # not a number: nothing was established
        return "not established"
    return show(value, dimension, unit_for(dimension, units), uncertainty=uncertainty)


def judged_text(verdict: Verdict, units: str = "mm") -> str:
    """What the limit is held against, with U and k: "elongation 2.71 % ± 0.13 %"."""
    judged = verdict.judgement
    if judged is None:
        return verdict.answer or "not established"
    value = shown(judged.value, judged.dimension, units, judged.uncertainty)
    expanded = shown(judged.expanded, judged.dimension, units, judged.uncertainty)
    return f"{judged.name} {value} ± {expanded} (k = {judged.coverage_factor:.2f})"


def limit_text(verdict: Verdict, units: str = "mm") -> str:
    """The limit with its direction: "at most 2.5 %"."""
    judged, ruling = verdict.judgement, verdict.ruling
    if ruling is None:
        return "none known"
    if ruling.limit_si is None:
        return "in order"
    word = "at least" if ruling.side == "lower" else "at most"
    dimension = judged.dimension if judged else _limit_dimension(verdict)
    return f"{word} {shown(ruling.limit_si, dimension, units)}"


def source_text(verdict: Verdict) -> str:
    """Source, clause and edition, and how we know."""
    ruling = verdict.ruling
    if ruling is None:
        return "no source"
    clause = ", ".join(part for part in (ruling.clause, ruling.edition) if part)
    known = {"read": "text read", "memory": "from memory", "practice": "common practice"}
    how = known.get(ruling.known, "maker's own")
    return f"{ruling.source}{', ' + clause if clause else ''} ({how})"


def probability_text(verdict: Verdict) -> str:
    """Probability that the part is really beyond the limit."""
    judged = verdict.judgement
    if judged is None:
        return "-"
    p = judged.probability
    if p < 0.0005:
        return "< 0.1 %"
    return "> 99.9 %" if p > 0.9995 else f"{100.0 * p:.1f} %"


def sentence(verdict: Verdict, units: str = "mm") -> str:
    """The verdict in one sentence with its figures."""
    if verdict.judgement is None:
        return f"{verdict.title}: {verdict.outcome.words}; {verdict.why}."
    return (
        f"{verdict.title}: {verdict.outcome.words}; {judged_text(verdict, units)}, limit "
        f"{limit_text(verdict, units)}; {verdict.why}."
    )


def _limit_dimension(verdict: Verdict) -> Dimension:
    shares = ("elongation", "rise from as new", "loss from as new")
    comparison = verdict.ruling.comparison if verdict.ruling else ""
    return Dimension.RATIO if comparison in shares else verdict.dimension
