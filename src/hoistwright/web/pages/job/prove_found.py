"""What the proof found, for its page: findings with their bands, and what may be wrong."""

from __future__ import annotations

import math

import attrs
from markupsafe import Markup

from hoistwright.job.to_proof import Proof
from hoistwright.metrology import Outcome
from hoistwright.prove.diagnose import WORDS
from hoistwright.prove.fault_data import NONE
from hoistwright.prove.finding import ProofFinding
from hoistwright.quantity import Dimension, show
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.prove_pictures import band_ruler, likely_bar

WORTH_SHOWING = 0.02
MOST_SHOWN = 5


@attrs.frozen(kw_only=True)
class FindingLine:
    """One finding in words, with its ruler where it has a band."""

    key: str
    name: str
    state: str
    required: bool
    value: str
    why: str
    next_step: str
    source: str
    ruler: Markup


@attrs.frozen(kw_only=True)
class LikelyLine:
    """One thing that may be wrong."""

    name: str
    percent: str
    bar: Markup
    look_first: str
    caution: str
    because: str


@attrs.frozen(kw_only=True)
class Suspected:
    """The diagnosis, where something is off. `slips`: the brake did not hold."""

    slips: bool
    remark: str
    lines: tuple[LikelyLine, ...]
    not_seen: str


def finding_lines(case: Case, proof: Proof) -> tuple[FindingLine, ...]:
    """All findings that could be made or are required; those that nobody asked for are left out.

    The looks stand at their steps; here only those that are not fit.
    """
    looks = {step.look for step in proof.steps}
    return tuple(
        _line(case, finding)
        for finding in proof.result.findings
        if (finding.required or finding.outcome is not Outcome.NOT_ESTABLISHED or _told(finding))
        and (finding.key not in looks or finding.outcome is Outcome.RENEW)
    )


def _told(finding: ProofFinding) -> bool:
    """Whether a finding without verdict still has a figure to tell, as creep without a limit."""
    return math.isfinite(finding.value)


def _line(case: Case, finding: ProofFinding) -> FindingLine:
    own = case.visit.language
    source = finding.source if finding.known != "practice" else f"{finding.source}"
    return FindingLine(
        key=finding.key.replace(" ", "-").replace("_", "-"),
        name=own.sentence(finding.name),
        state=finding.outcome.words,
        required=finding.required,
        value=_value(case, finding),
        why=own.sentence(finding.why),
        next_step=own.sentence(finding.next_step),
        source=own.sentence(source),
        ruler=_ruler(case, finding),
    )


def _value(case: Case, finding: ProofFinding) -> str:
    if not math.isfinite(finding.value) or not math.isfinite(finding.u):
        return ""
    return finding.text.replace(".", case.visit.language.decimal)


def _ruler(case: Case, finding: ProofFinding) -> Markup:
    if not math.isfinite(finding.value) or (finding.low is None and finding.high is None):
        return Markup()
    ends = (_bound(case, finding, finding.low), _bound(case, finding, finding.high))
    spread = 2 * finding.u if math.isfinite(finding.u) else 0.0
    return band_ruler(finding.low, finding.high, finding.value, spread, finding.guard, ends)


def _bound(case: Case, finding: ProofFinding, bound: float | None) -> str:
    if bound is None:
        return ""
    mark = case.visit.language.decimal
    if finding.dimension is Dimension.RATIO and not finding.unit:
        return f"{bound:.3g}".replace(".", mark)
    return show(bound, finding.dimension, finding.unit, decimal=mark)


def suspected(case: Case, proof: Proof) -> Suspected | None:
    """What may be wrong, the likeliest first; None while nothing is off."""
    found = proof.diagnosis
    if found is None or not (found.brake_slips or _off(proof)):
        return None
    own = case.visit.language
    shown = [one for one in found.ranked if one.probability >= WORTH_SHOWING][:MOST_SHOWN]
    return Suspected(
        slips=found.brake_slips,
        remark=own.sentence(found.remark),
        lines=tuple(
            LikelyLine(
                name=own.sentence(one.name),
                percent=f"{100 * one.probability:.0f} %",
                bar=likely_bar(one.probability),
                look_first=own.sentence(one.look_first),
                caution=own.sentence(one.caution),
                because=", ".join(own.sentence(WORDS[name]) for name in one.because),
            )
            for one in shown
        ),
        not_seen=", ".join(own.sentence(WORDS[name]) for name in found.not_seen),
    )


def _off(proof: Proof) -> bool:
    """Whether something does not look as it should: a finding, a look, or the whole picture."""
    found = proof.diagnosis
    off = any(f.outcome in (Outcome.RENEW, Outcome.BORDERLINE) for f in proof.result.findings)
    return off or (found is not None and found.first.key != NONE and found.first.probability > 0.5)
