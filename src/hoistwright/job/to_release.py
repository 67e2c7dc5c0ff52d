"""From a job to the facts that its release hangs on. The rule itself is `prove.release`."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from hoistwright.examine.verdict import Verdict
from hoistwright.job.events import PartChosen, ReadingEntered
from hoistwright.job.events_release import CertificateIssued, ExitChosen
from hoistwright.job.proven import Proven
from hoistwright.job.stages import Facts
from hoistwright.job.state import Standing
from hoistwright.job.to_entries import entered_on
from hoistwright.metrology import Outcome, state_on
from hoistwright.prove.release import (
    BasisState,
    Condemned,
    GaugeUse,
    HoldPoint,
    LowerLoad,
    Required,
    Signer,
    Summary,
    Unrepaired,
    proof_required,
)

NOBODY = Signer()


def summary_of(
    facts: Facts, chosen: ExitChosen, proof: Proven | None, signer: Signer = NOBODY
) -> Summary:
    """A job in the few facts that its release hangs on.

    Args:
        facts: the job, with design, bases and shop.
        chosen: how it is to leave.
        proof: what the proof came to; None where there was none.
        signer: who signs.

    References:
        own rule, no formula.
    """
    return Summary(
        wanted=chosen.exit,
        bases=tuple(_bases(facts)),
        identity=tuple(identity_doubts(facts)),
        examined=(*_examined(facts), *_findings(facts)),
        gauges=(*_gauges(facts), *(proof.gauges if proof else ())),
        hold_points=(*_hold_points(facts), *_proof_points(proof)),
        proof=proof_required(proof.result) if proof else (),
        unsettled_tests=proof.unsettled if proof else (),
        signer=signer,
        lower=_lower(facts, chosen, proof),
        unrepaired=Unrepaired(
            reason=chosen.reason,
            marked_not_to_be_used=chosen.marked,
            customer_told=chosen.customer_told,
        ),
        condemned=Condemned(
            reason=chosen.reason,
            made_unusable_by=chosen.made_unusable,
            done_by=chosen.made_unusable_by,
            plate_removed=chosen.plate_removed,
        ),
    )


def rated_load_of(facts: Facts) -> float | None:
    """What the plate says that the hoist may lift, else its design, kg."""
    booked = facts.state.booked
    stated = booked.hoist.rated_load if booked else None
    if stated is None and facts.design is not None:
        stated = facts.design.rating.rated_load
    return None if stated is None else float(stated)


def signer_of(facts: Facts) -> Signer:
    """Who signed the certificate that stands; nobody where there is none."""
    entry = certificate_entry(facts)
    if entry is None:
        return NOBODY
    person = facts.shop.person(entry.event.by)
    return Signer(
        name=person.name if person else entry.event.by,
        entitled=entry.event.by in facts.shop.adopters(),
        signed=True,
    )


def certificate_entry(facts: Facts) -> Standing | None:
    """The entry of the certificate that stands."""
    if facts.state.certificate is None:
        return None
    return facts.state.by_topic.get((CertificateIssued.kind,))


def left_in(facts: Facts) -> dict[str, PartChosen]:
    """Borderline parts that a competent person left in, with the reason."""
    competent = facts.shop.adopters()
    return {
        part: body
        for part, entry in facts.state.choices.items()
        if isinstance(body := entry.body, PartChosen)
        and not body.renew
        and body.reason
        and entry.last.by in competent
    }


def as_left(facts: Facts, verdict: Verdict) -> tuple[Outcome, str]:
    """What a verdict as found comes to now: a renewed part is new, a look after is as it is."""
    stages = {point.address: point.stage for point in facts.points}
    address = verdict.part, verdict.feature, verdict.place
    if verdict.part in facts.renewed and stages.get(address) != "rebuilt":
        return Outcome.FIT, "renewed since"
    kept = left_in(facts).get(verdict.part)
    if verdict.outcome is Outcome.BORDERLINE and kept is not None:
        return Outcome.FIT, f"borderline, left in: {kept.reason}"
    return verdict.outcome, verdict.why


def _bases(facts: Facts) -> Iterator[BasisState]:
    examination = facts.examination
    states = {s.basis: s for s in examination.adoptions} if examination else {}
    for basis in facts.bases:
        state = states.get(basis.key)
        yield BasisState(
            key=basis.key,
            adopted=state is not None and state.holds,
            why_not=state.sentence.rstrip(".") if state and not state.holds else "",
            rule_can_release=basis.head.rule.kind != "simple",
        )


def _examined(facts: Facts) -> Iterator[Required]:
    examination = facts.examination
    if examination is None:
        return
    for verdict in examination.verdicts:
        outcome, why = as_left(facts, verdict)
        yield Required(name=verdict.title, outcome=outcome, why=why.rstrip("."), key=verdict.part)


def identity_doubts(facts: Facts) -> Iterator[str]:
    """Why it is not established which hoist this is: what its plate and its design contradict."""
    examination = facts.examination
    for finding in examination.findings if examination else ():
        if finding.about == "identity":
            yield f"{finding.title}. {finding.sentence} {finding.next_step}"


def _findings(facts: Facts) -> Iterator[Required]:
    """What several verdicts say together; settled where its parts are renewed, or left in."""
    examination = facts.examination
    settled = {*facts.renewed, *left_in(facts)}
    for finding in examination.findings if examination else ():
        if finding.about == "parts" and not (finding.parts and settled.issuperset(finding.parts)):
            yield Required(
                name=finding.title,
                outcome=finding.outcome,
                why=finding.sentence.rstrip("."),
                key=next((part for part in finding.parts if part not in settled), ""),
            )


def _gauges(facts: Facts) -> Iterator[GaugeUse]:
    """Each gauge on each day of its use; what was read of a part since renewed counts no more."""
    gauges = {gauge.key: gauge for gauge in facts.shop.all_gauges()}
    stated = facts.state.examined_on
    seen = set()
    for (part, _, _), entry in facts.state.readings.items():
        body = entry.body
        if not isinstance(body, ReadingEntered) or not body.gauge or part in facts.renewed:
            continue
        day = stated.day if stated else entered_on(entry)
        if (body.gauge, day) in seen:
            continue
        seen.add((body.gauge, day))
        gauge = gauges.get(body.gauge)
        if gauge is None:
            yield GaugeUse(name=body.gauge, in_date=False, why_not="the shop has no such gauge")
            continue
        found = state_on(gauge, day)
        why = "" if found.usable else found.reason
        yield GaugeUse(name=gauge.name, in_date=found.usable, why_not=why)


def _hold_points(facts: Facts) -> Iterator[HoldPoint]:
    may = {
        person.key: person.name
        for person in facts.shop.people
        if {"technician", "competent person"} & set(person.roles)
    }
    plan = facts.rebuild
    for point in plan.hold_points if plan else ():
        entry = facts.state.signatures.get(point.step)
        signed = may.get(entry.last.by, "") if entry else ""
        yield HoldPoint(name=point.text, signed_by=signed, key=point.step)


def _proof_points(proof: Proven | None) -> Iterator[HoldPoint]:
    for step in proof.steps if proof else ():
        if proof is not None and step.hold_point:
            signed = proof.signed.get(step.key, "")
            yield HoldPoint(name=step.name, signed_by=signed, key=step.key)


def _lower(facts: Facts, chosen: ExitChosen, proof: Proven | None) -> LowerLoad | None:
    if chosen.exit != "released with lower rated load" or chosen.lowered_to is None:
        return None
    applied = proof.applied if proof else None
    band = proof.needed.band if proof else None
    low, high = band if band else (1.0, None)
    proved = (
        applied is not None
        and applied.outcome is Outcome.FIT
        and applied.load >= low * chosen.lowered_to
        and (high is None or applied.load <= high * chosen.lowered_to)
    )
    return LowerLoad(
        rated=rated_load_of(facts) or 0.0,
        lowered=chosen.lowered_to,
        allowed_by=chosen.allowed_by,
        plate_changed=chosen.plate_changed,
        proved_for_it=proved,
    )


def with_signer(summary: Summary, name: str, *, entitled: bool) -> Summary:
    """The same, as it will be once this person has signed."""
    return attrs.evolve(summary, signer=Signer(name=name, entitled=entitled, signed=True))
