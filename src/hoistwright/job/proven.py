"""What the proof of a job came to, as the release and the certificate take it."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping

import attrs

from hoistwright.job.events_prove import ProofLooked
from hoistwright.job.proof_load import hung_load
from hoistwright.job.requirements_prove import gauge_uses, may_sign
from hoistwright.job.stages import Facts
from hoistwright.job.to_proof import Proof
from hoistwright.prove.bed import Applied
from hoistwright.prove.finding import ProofResult
from hoistwright.prove.release import GaugeUse
from hoistwright.prove.sequence import ProofStep
from hoistwright.prove.tests_needed import NeededTests


@attrs.frozen(kw_only=True)
class Proven:
    """Everything of the proof that a release leans on."""

    needed: NeededTests
    result: ProofResult
    steps: tuple[ProofStep, ...] = ()
    applied: Applied | None = None
    hold: float | None = None
    """How long the load was held, s."""
    day: datetime.date | None = None
    by: str = ""
    """Name of who proved."""
    gauges: tuple[GaugeUse, ...] = ()
    """Gauges and test weights on the day of the proof."""
    signed: Mapping[str, str] = attrs.field(factory=dict)
    """Who answered each step with yes, after the rebuild: at a hold point that signs it."""

    @property
    def unsettled(self) -> tuple[str, ...]:
        """Names of tests of which nobody has said whether they apply."""
        return tuple(test.name for test in self.needed.unsettled)


def proven_of(facts: Facts) -> Proven | None:
    """What the proof of a job came to; None where nothing is recorded of it."""
    proof = facts.proof
    if proof is None or not proof.told.looks:
        return None
    hold = proof.record.hold
    return Proven(
        needed=proof.needed,
        result=proof.result,
        steps=proof.steps,
        applied=proof.applied,
        hold=hold.seconds if hold else None,
        day=proof.day,
        by=_who(facts, proof),
        gauges=tuple(_gauges(facts, proof)),
        signed=_signed(facts, proof),
    )


def _who(facts: Facts, proof: Proof) -> str:
    """Who spoke last while the hoist was proved."""
    last = max(proof.told.looks.values(), key=lambda entry: entry.last.seq)
    person = facts.shop.person(last.last.by)
    return person.name if person else last.last.by


def _signed(facts: Facts, proof: Proof) -> dict[str, str]:
    found = {}
    for step, entry in proof.told.looks.items():
        body, person = entry.body, facts.shop.person(entry.last.by)
        yes = isinstance(body, ProofLooked) and body.answer == "yes"
        if person is not None and yes and may_sign(facts, person.key):
            found[step] = person.name
    return found


def _gauges(facts: Facts, proof: Proof) -> Iterator[GaugeUse]:
    """Gauges and test weights on the day of their use."""
    for use in gauge_uses(facts):
        yield GaugeUse(name=use.name, in_date=not use.trouble, why_not=use.trouble)
    chosen = facts.state.test_load
    if chosen is not None and chosen.by == "weights" and proof.permitted is not None:
        _, _, why = hung_load(chosen.hung, facts.shop, proof.day)
        yield GaugeUse(name="test weights", in_date=not why, why_not=why)
