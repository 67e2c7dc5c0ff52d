"""One finding of a proof: value, uncertainty, what it is held against, outcome, why."""

from __future__ import annotations

import math

import attrs

from hoistwright.basis.model import Known
from hoistwright.metrology import DecisionRule, Outcome, Side, judge, worst
from hoistwright.quantity import Dimension, show, show_interval


@attrs.frozen(kw_only=True)
class ProofFinding:
    """One thing found while proving. Figures in SI; NaN and None where there is none.

    `required` findings must all be fit before a release; the others inform.
    """

    key: str
    name: str
    outcome: Outcome
    required: bool
    why: str
    next_step: str = ""
    value: float = math.nan
    u: float = math.nan
    low: float | None = None
    high: float | None = None
    guard: float = math.nan
    dimension: Dimension = Dimension.NUMBER
    unit: str = ""
    source: str = ""
    known: Known | None = None
    gauge: str = ""

    @property
    def text(self) -> str:
        """The value with U = 2 u and its unit."""
        return show_interval(self.value, 2 * self.u, self.dimension, self.unit)


@attrs.frozen(kw_only=True)
class ProofResult:
    """All findings of a proof, in the order in which they were made."""

    findings: tuple[ProofFinding, ...]

    @property
    def outcome(self) -> Outcome:
        """The worst of what is required; of nothing, not established."""
        return worst(finding.outcome for finding in self.findings if finding.required)

    @property
    def passed(self) -> bool:
        return self.outcome is Outcome.FIT

    def of(self, key: str) -> ProofFinding:
        """The finding with this key; KeyError where there is none."""
        for finding in self.findings:
            if finding.key == key:
                return finding
        raise KeyError(key)


@attrs.frozen(kw_only=True)
class Band:
    """What a value is held against. None: no bound on that side."""

    low: float | None = None
    high: float | None = None
    source: str = ""
    known: Known | None = None


@attrs.frozen(kw_only=True)
class Measured:
    """A measured value in SI with its standard uncertainty, and how to show it."""

    value: float
    u: float
    dimension: Dimension = Dimension.RATIO
    unit: str = ""
    dof: float = math.inf
    gauge: str = ""


def held_against(
    key: str,
    name: str,
    measured: Measured,
    band: Band,
    rule: DecisionRule,
    *,
    required: bool,
    next_step: str = "",
) -> ProofFinding:
    """Hold a value against a band; the worse of both sides is the outcome.

    each side by `hoistwright.metrology.judge` (guard band g = r u)

    Args:
        key: key of the finding.
        name: its name.
        measured: the value.
        band: its bounds.
        rule: the decision rule.
        required: whether a release waits for it.
        next_step: what to do where it is not fit.

    Returns:
        The finding; not established where value or both bounds are missing.

    Raises:
        ValueError: a negative uncertainty.

    >>> from hoistwright.metrology import GUARDED
    >>> band = Band(low=0.8, high=0.9, source="design")
    >>> found = held_against("eta", "efficiency", Measured(value=0.85, u=0.01, unit="%"), band,
    ...                      GUARDED, required=True)
    >>> found.outcome.words, found.why
    ('fit', '85.0 ± 2.0 % lies within 80 % to 90 % by more than its guard band')

    References:
        JCGM 106:2012, 8.3, from memory.
    """
    sides = [(band.low, Side.LOWER), (band.high, Side.UPPER)]
    verdicts = [
        judge(measured.value, measured.u, limit, side, dof=measured.dof, rule=rule)
        for limit, side in sides
        if limit is not None
    ]
    outcome = worst(verdict.outcome for verdict in verdicts)
    return ProofFinding(
        key=key,
        name=name,
        outcome=outcome,
        required=required,
        why=_why(measured, band, outcome),
        next_step="" if outcome is Outcome.FIT else next_step,
        value=measured.value,
        u=measured.u,
        low=band.low,
        high=band.high,
        guard=verdicts[0].guard if verdicts else math.nan,
        dimension=measured.dimension,
        unit=measured.unit,
        source=band.source,
        known=band.known,
        gauge=measured.gauge,
    )


def not_established(
    key: str, name: str, why: str, next_step: str = "", *, required: bool
) -> ProofFinding:
    """A finding that could not be made, and what is missing."""
    return ProofFinding(
        key=key,
        name=name,
        outcome=Outcome.NOT_ESTABLISHED,
        required=required,
        why=why,
        next_step=next_step,
    )


def bounds_text(band: Band, dimension: Dimension, unit: str) -> str:
    """The band in words: "80 % to 90 %", "at least 1 min", "at most 2 mm"."""
    low, high = (
        None if bound is None else show(bound, dimension, unit) for bound in (band.low, band.high)
    )
    if low and high:
        return f"{low} to {high}"
    return f"at least {low}" if low else f"at most {high}" if high else "no bound"


def _why(measured: Measured, band: Band, outcome: Outcome) -> str:
    if not math.isfinite(measured.value) or not math.isfinite(measured.u):
        return "no value was recorded"
    told = show_interval(measured.value, 2 * measured.u, measured.dimension, measured.unit)
    bounds = bounds_text(band, measured.dimension, measured.unit)
    lies = "keeps to" if band.low is None or band.high is None else "lies within"
    if outcome is Outcome.FIT:
        return f"{told} {lies} {bounds} by more than its guard band"
    if outcome is Outcome.BORDERLINE:
        return f"{told} {lies} {bounds}, but not by its guard band: measure again"
    if outcome is Outcome.RENEW:
        beyond = "does not keep to" if lies == "keeps to" else "lies at or beyond"
        return f"{told} {beyond} {bounds}"
    return f"{told}, with nothing to hold it against"
