"""What the proof found, for its page: findings with their bands, and what may be wrong."""

from __future__ import annotations

import math
from collections.abc import Mapping

import attrs
from markupsafe import Markup

from hoistwright.job.to_proof import Proof
from hoistwright.language import marked
from hoistwright.metrology import Outcome
from hoistwright.prove.diagnose import WORDS
from hoistwright.prove.fault_data import NONE
from hoistwright.prove.finding import ProofFinding
from hoistwright.quantity import Dimension, show
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.prove_pictures import band_ruler, likely_bar

FOUND_WORDS: Mapping[str, str] = {
    "fit": marked("passed"),
    "renew": marked("not passed"),
    "borderline": marked("borderline"),
    "not established": marked("not established"),
}
"""A proof is passed or not, where a part is fit or renewed."""
INFORMS: Mapping[str, str] = {
    **FOUND_WORDS,
    "fit": marked("as expected"),
    "renew": marked("not as expected"),
    "not established": marked("for information"),
}
"""Words for findings that no release waits for."""
WORTH_SHOWING = 0.02
LEAST_SHOWN, MOST_SHOWN = 2, 5


@attrs.frozen(kw_only=True)
class FindingLine:
    """One finding in words, with its ruler where it has a band."""

    key: str
    name: str
    state: str
    word: str
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
    """The diagnosis, where something is off.

    `slips`: the brake did not hold. `prominent`: it did not, or something that is required did
    not pass. `folded`: neither, and that nothing is wrong is the likeliest.
    """

    slips: bool
    prominent: bool
    folded: bool
    remark: str
    lines: tuple[LikelyLine, ...]
    not_seen: str


def finding_lines(case: Case, proof: Proof) -> tuple[FindingLine, ...]:
    """All findings that could be made or are required; those that nobody asked for are left out.

    The looks stand at their steps; here only those that are not fit.
    """
    looks = {step.look for step in proof.steps}
    titles = {source.key: source.title for basis in proof.bases for source in basis.sources}
    return tuple(
        _line(case, finding, titles)
        for finding in proof.result.findings
        if (finding.required or finding.outcome is not Outcome.NOT_ESTABLISHED or _told(finding))
        and (finding.key not in looks or finding.outcome is Outcome.RENEW)
    )


def _told(finding: ProofFinding) -> bool:
    """Whether a finding without verdict still has a figure to tell, as creep without a limit."""
    return math.isfinite(finding.value)


def _line(case: Case, finding: ProofFinding, titles: Mapping[str, str]) -> FindingLine:
    own = case.visit.language
    return FindingLine(
        key=finding.key.replace(" ", "-").replace("_", "-"),
        name=own.sentence(finding.name),
        state=finding.outcome.words,
        word=(FOUND_WORDS if finding.required else INFORMS)[finding.outcome.words],
        required=finding.required,
        value=_value(case, finding),
        why=own.sentence(finding.why),
        next_step=own.sentence(finding.next_step),
        source=own.sentence(_source(finding, titles)),
        ruler=_ruler(case, finding),
    )


def _source(finding: ProofFinding, titles: Mapping[str, str]) -> str:
    """Where a bound is from, sources by their titles; a bare key is no word for people."""
    told = finding.source
    for key in sorted(titles, key=len, reverse=True):
        told = told.replace(key, titles[key]) if key != "practice" else told
    return "common practice" if told == "practice" else told


def _value(case: Case, finding: ProofFinding) -> str:
    if not math.isfinite(finding.value) or not math.isfinite(finding.u):
        return ""
    if not finding.u:
        return show(finding.value, finding.dimension, finding.unit,
                    decimal=case.visit.language.decimal)  # fmt: skip
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
        return f"{bound:.4g}".replace(".", mark)
    return show(bound, finding.dimension, finding.unit, decimal=mark)


def suspected(case: Case, proof: Proof) -> Suspected | None:
    """What may be wrong, the likeliest first; None while nothing is off."""
    found = proof.diagnosis
    if found is None or not (found.brake_slips or _off(proof)):
        return None
    own = case.visit.language
    likely = [one for one in found.ranked if one.probability >= WORTH_SHOWING]
    shown = likely[:MOST_SHOWN] if len(likely) > 1 else found.ranked[:LEAST_SHOWN]
    prominent = found.brake_slips or _failed(proof)
    return Suspected(
        slips=found.brake_slips,
        prominent=prominent,
        folded=not prominent and found.first.key == NONE,
        remark=own.sentence(found.remark),
        lines=tuple(
            LikelyLine(
                name=own.sentence(one.name),
                percent=_percent(case, one.probability),
                bar=likely_bar(one.probability),
                look_first=own.sentence(one.look_first),
                caution=own.sentence(one.caution),
                because=", ".join(own.sentence(WORDS[name]) for name in one.because),
            )
            for one in shown
        ),
        not_seen=", ".join(own.sentence(WORDS[name]) for name in _not_seen(proof)),
    )


def _not_seen(proof: Proof) -> tuple[str, ...]:
    """What was not recorded and could have been on this hoist."""
    machine, found = proof.machine, proof.diagnosis
    limited = machine is not None and machine.limiter is not None
    names = found.not_seen if found else ()
    return tuple(name for name in names if name != "slip" or limited)


def _percent(case: Case, share: float) -> str:
    """Never 0 or 100: the model has not seen every hoist."""
    if share > 0.99:
        return case.visit.say("over %(percent)s", percent="99 %")
    if share < 0.01:
        return case.visit.say("below %(percent)s", percent="1 %")
    return f"{100 * share:.0f} %"


def _failed(proof: Proof) -> bool:
    """Whether something that a release waits for did not pass."""
    return any(f.required and f.outcome is Outcome.RENEW for f in proof.result.findings)


def _off(proof: Proof) -> bool:
    """Whether something does not look as it should: a finding, a look, or the whole picture."""
    found = proof.diagnosis
    off = any(f.outcome in (Outcome.RENEW, Outcome.BORDERLINE) for f in proof.result.findings)
    return off or (found is not None and found.first.key != NONE and found.first.probability > 0.5)
