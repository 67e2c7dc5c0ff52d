"""The release rule, in one place: what must be so before a hoist leaves, or what is missing."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

import attrs

from hoistwright.metrology import Outcome
from hoistwright.prove.finding import ProofResult

Exit = Literal["released", "released with lower rated load", "returned unrepaired", "condemned"]
"""How a hoist leaves the shop."""

About = Literal[
    "basis", "identity", "examined", "gauge", "hold point", "proof", "test", "signer", "load",
    "plate", "reason", "mark", "customer", "unusable",
]  # fmt: skip
"""What a gap is about."""


@attrs.frozen(kw_only=True)
class BasisState:
    """A basis of the job: adopted as it stands, and whether its rule may release."""

    key: str
    adopted: bool
    why_not: str = ""
    rule_can_release: bool = True


@attrs.frozen(kw_only=True)
class Required:
    """A look, a reading or a finding of the proof that must be fit."""

    name: str
    outcome: Outcome
    why: str = ""
    key: str = ""
    """Of the part, or of the finding of the proof."""


@attrs.frozen(kw_only=True)
class GaugeUse:
    """A gauge or test weight at the time of its use."""

    name: str
    in_date: bool
    why_not: str = ""


@attrs.frozen(kw_only=True)
class HoldPoint:
    """A hold point and who signed it; empty: nobody."""

    name: str
    signed_by: str = ""
    key: str = ""
    """Of its step."""


@attrs.frozen(kw_only=True)
class Signer:
    """Who signs. `entitled`: a competent person of the shop, whom the shop lets sign."""

    name: str = ""
    entitled: bool = False
    signed: bool = False


@attrs.frozen(kw_only=True)
class LowerLoad:
    """A lower rated load: kg before and after, what allows it, the plate, the load proved."""

    rated: float
    lowered: float
    allowed_by: str = ""
    """Source and clause that allow it; empty: the basis does not."""
    plate_changed: bool = False
    proved_for_it: bool = False


@attrs.frozen(kw_only=True)
class Unrepaired:
    """Why a hoist goes back unrepaired, that it is marked, and that the customer knows."""

    reason: str = ""
    marked_not_to_be_used: bool = False
    customer_told: bool = False


@attrs.frozen(kw_only=True)
class Condemned:
    """Why a hoist is condemned, how it was made unusable, by whom, and the plate's end."""

    reason: str = ""
    made_unusable_by: str = ""
    """How: "load sheave sawn through", "hooks cut off"."""
    done_by: str = ""
    plate_removed: bool = False


@attrs.frozen(kw_only=True)
class Summary:
    """A job in the few facts that a release hangs on."""

    wanted: Exit
    bases: tuple[BasisState, ...] = ()
    identity: tuple[str, ...] = ()
    """Why it is not established which hoist this is, in sentences: plate and design disagree."""
    examined: tuple[Required, ...] = ()
    gauges: tuple[GaugeUse, ...] = ()
    hold_points: tuple[HoldPoint, ...] = ()
    proof: tuple[Required, ...] = ()
    unsettled_tests: tuple[str, ...] = ()
    """Tests of which nobody has said whether they apply."""
    signer: Signer = attrs.Factory(Signer)
    lower: LowerLoad | None = None
    unrepaired: Unrepaired | None = None
    condemned: Condemned | None = None


@attrs.frozen
class Gap:
    """One thing that is missing: what it is about, in a sentence, and the key of its place."""

    about: About
    sentence: str
    key: str = ""


@attrs.frozen(kw_only=True)
class Release:
    """Whether the hoist may leave this way, and everything that is missing."""

    exit: Exit
    gaps: tuple[Gap, ...]

    @property
    def missing(self) -> tuple[str, ...]:
        """The sentences, each once."""
        return tuple(dict.fromkeys(gap.sentence for gap in self.gaps))

    @property
    def allowed(self) -> bool:
        return not self.gaps


def release(summary: Summary) -> Release:
    """Hold a job against the release rule.

    released = basis adopted and hoist identified and all required fit and gauges in date and hold
    points signed and proof passed and an entitled person signed; nothing that is unknown counts
    as so

    Args:
        summary: the facts of the job.

    Returns:
        Allowed, or every missing thing at once. A hoist that goes back unrepaired or condemned
        needs no fit part, but its reason, its mark or its end, and a name.

    Raises:
        ValueError: an exit that there is not.

    >>> release(Summary(wanted="returned unrepaired")).missing[0]
    'Say why the hoist goes back unrepaired.'

    References:
        own rule, no formula; signed by a competent person: LOLER 1998 reg. 9 and 10, ASME
        B30.16, from memory.
    """
    rules = {
        "released": _released,
        "released with lower rated load": _lowered,
        "returned unrepaired": _unrepaired,
        "condemned": _condemned,
    }
    rule = rules.get(summary.wanted)
    if rule is None:
        raise ValueError(f"exit: given {summary.wanted!r}; expected one of: {', '.join(rules)}.")
    return Release(exit=summary.wanted, gaps=tuple(dict.fromkeys(rule(summary))))


def proof_required(result: ProofResult) -> tuple[Required, ...]:
    """The findings of a proof that a release waits for, ready for the summary."""
    return tuple(
        Required(name=finding.name, outcome=finding.outcome, why=finding.why, key=finding.key)
        for finding in result.findings
        if finding.required
    )


def _released(summary: Summary) -> Iterator[Gap]:
    yield from _bases(summary)
    for sentence in summary.identity:
        yield Gap("identity", sentence)
    yield from _required("examined", summary.examined, "No look and no reading is on record.")
    yield from _gauges(summary)
    yield from _hold_points(summary)
    yield from _required("proof", summary.proof, "The hoist was not proved.")
    for test in summary.unsettled_tests:
        yield Gap("test", f"A competent person must say whether this test applies: {test}.", test)
    yield from _signer(summary.signer)


def _bases(summary: Summary) -> Iterator[Gap]:
    if not summary.bases:
        yield Gap("basis", "The job has no basis.")
    for basis in summary.bases:
        if not basis.adopted:
            why = f" ({basis.why_not})" if basis.why_not else ""
            sentence = f"The basis {basis.key} is not adopted by the shop{why}."
            yield Gap("basis", sentence, basis.key)
        if not basis.rule_can_release:
            sentence = (
                f"The decision rule of {basis.key} is for comparison only and cannot release."
            )
            yield Gap("basis", sentence, basis.key)


def _required(about: About, items: tuple[Required, ...], none: str) -> Iterator[Gap]:
    if not items:
        yield Gap(about, none)
    for item in items:
        if item.outcome is not Outcome.FIT:
            why = f": {item.why}" if item.why else ""
            yield Gap(about, f"{item.name} is {item.outcome.words}{why}.", item.key)


def _gauges(summary: Summary) -> Iterator[Gap]:
    if not summary.gauges:
        yield Gap("gauge", "No gauge is on record.")
    for gauge in summary.gauges:
        if not gauge.in_date:
            why = f": {gauge.why_not}" if gauge.why_not else ""
            yield Gap("gauge", f"{gauge.name} was not in date when it was used{why}.", gauge.name)


def _hold_points(summary: Summary) -> Iterator[Gap]:
    if not summary.hold_points:
        yield Gap("hold point", "No hold point is on record.")
    for point in summary.hold_points:
        if not point.signed_by.strip():
            yield Gap("hold point", f"The hold point '{point.name}' is not signed.", point.key)


def _signer(signer: Signer) -> Iterator[Gap]:
    if not signer.name.strip():
        yield Gap("signer", "Nobody is named who signs.")
        return
    if not signer.entitled:
        sentence = f"{signer.name} may not sign: not a competent person of the shop."
        yield Gap("signer", sentence)
    if not signer.signed:
        yield Gap("signer", f"{signer.name} has not signed.")


def _lowered(summary: Summary) -> Iterator[Gap]:
    yield from _released(summary)
    lower = summary.lower
    if lower is None:
        yield Gap("load", "State the lower rated load.")
        return
    if not (math.isfinite(lower.lowered) and 0 < lower.lowered < lower.rated):
        sentence = (
            f"The lower rated load must lie below {lower.rated:g} kg and above 0; "
            f"it is {lower.lowered:g} kg."
        )
        yield Gap("load", sentence)
    if not lower.allowed_by.strip():
        yield Gap("load", "No basis of the job allows a lower rated load.")
    if not lower.plate_changed:
        yield Gap("plate", "The data plate does not show the lower rated load yet.")
    if not lower.proved_for_it:
        yield Gap("proof", "The hoist was not proved for its lower rated load.")


def _unrepaired(summary: Summary) -> Iterator[Gap]:
    facts = summary.unrepaired or Unrepaired()
    if not facts.reason.strip():
        yield Gap("reason", "Say why the hoist goes back unrepaired.")
    if not facts.marked_not_to_be_used:
        yield Gap("mark", "Mark the hoist: not to be used.")
    if not facts.customer_told:
        sentence = "Tell the customer that the hoist is not fit for use, and that it was told."
        yield Gap("customer", sentence)
    yield from _signer(summary.signer)


def _condemned(summary: Summary) -> Iterator[Gap]:
    facts = summary.condemned or Condemned()
    if not facts.reason.strip():
        yield Gap("reason", "Say why the hoist is condemned.")
    if not facts.made_unusable_by.strip():
        yield Gap("unusable", "Say how the hoist was made unusable.")
    if not facts.done_by.strip():
        yield Gap("unusable", "Say who made it unusable.")
    if not facts.plate_removed:
        yield Gap("plate", "Take off the data plate, or deface it.")
    yield from _signer(summary.signer)
