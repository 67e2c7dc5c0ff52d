"""What the proof asks for before a hoist may be released."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from hoistwright.job.events_prove import ProofLooked, ProofMeasured
from hoistwright.job.stages import Facts, Missing
from hoistwright.job.state import Standing
from hoistwright.job.to_entries import entered_on
from hoistwright.job.to_proof import Proof
from hoistwright.metrology import Outcome, state_on

MAY_SIGN = frozenset({"technician", "competent person"})
_LOAD = "load"
"""Key of the finding on the load that was applied."""
_AT = {
    "hold time": "hold",
    "brake holds": "hold",
    "no creep seen": "hold",
    "creep": "hold",
    "pawls heard": "pawls",
    "limiter": "limiter",
}
"""The step at which a finding is made."""


def prove(facts: Facts) -> Iterator[Missing]:
    """Tests settled, load chosen, each step answered and signed, figures there, all fit."""
    proof = facts.proof
    if proof is None:
        yield _say("design", "No design is chosen yet: this stage needs one.")
        return
    yield from _tests(proof)
    yield from _looks(facts, proof)
    yield from _found(proof)
    for use in gauge_uses(facts):
        if use.trouble:
            yield _say("proof gauge", f"{use.trouble}. Read it again.", use.step)


def _tests(proof: Proof) -> Iterator[Missing]:
    for test in proof.needed.unsettled:
        sentence = f"A competent person must say whether this test applies: {test.name}."
        yield _say("proof test", sentence, test.name)
    if proof.needed.extent == "not established" and not proof.needed.unsettled:
        sentence = "A competent person must state the test load: no basis of this job does."
        yield _say("proof test", sentence)
    if proof.permitted is not None and proof.state.test_load is None:
        yield _say("test load", "Choose what is hung on for the load test.")


def _looks(facts: Facts, proof: Proof) -> Iterator[Missing]:
    for step in proof.steps:
        if not step.look:
            continue
        entry = proof.told.looks.get(step.key)
        if entry is None:
            why = "answered before the rebuild was done; look again"
            told = why if step.key in proof.told.early else "not answered"
            yield _say("proof look", f"{step.name}: {told}.", step.key)
        elif _answer(entry) == "not looked at":
            yield _say("proof look", f"{step.name}: not looked at.", step.key)
        elif step.hold_point and not may_sign(facts, entry.last.by):
            told = f"answered by {entry.last.by}, who may not sign hold points"
            yield _say("proof look", f"{step.name}: {told}.", step.key)


def may_sign(facts: Facts, key: str) -> bool:
    """Whether a person of the shop may sign the hold points of a proof."""
    person = facts.shop.person(key)
    return person is not None and bool(MAY_SIGN & set(person.roles))


def _answer(entry: Standing) -> str:
    return entry.body.answer if isinstance(entry.body, ProofLooked) else ""


def _found(proof: Proof) -> Iterator[Missing]:
    """Required findings that are not fit; what is only not answered yet is told by its step."""
    by_look = {step.look: step.key for step in proof.steps}
    open_looks = {key for key in by_look if proof.record.look(key) == "not looked at"}
    steps = {step.key for step in proof.steps}
    for finding in proof.result.findings:
        untold = finding.key in open_looks or (finding.key == _LOAD and _load_told(proof))
        if not finding.required or finding.outcome is Outcome.FIT or untold:
            continue
        if finding.key == "no creep seen" and "no_creep" in open_looks:
            continue
        if finding.key == "brake holds" and proof.record.hold is None:
            continue  # told by the time of the hold
        sentence = f"{finding.name}: {finding.why}. {finding.next_step}".rstrip(" .") + "."
        at = by_look.get(finding.key) or _AT.get(finding.key, "")
        yield _say("proof", sentence, at if at in steps else "hold_hand_load" if at else "")


def _load_told(proof: Proof) -> bool:
    """Whether what the load lacks is told already: among the tests, or by its lift."""
    if proof.permitted is None or proof.state.test_load is None:
        return True
    lifts = [step for step in proof.steps if "load" in step.record]
    serves = proof.applied is not None and proof.applied.outcome is Outcome.FIT
    return serves and any(proof.record.look(step.look) != "yes" for step in lifts)


@attrs.frozen(kw_only=True)
class GaugeUsed:
    """A gauge at its use in the proof. `trouble`: why it may not be used; empty where it may."""

    name: str
    step: str
    trouble: str = ""


def gauge_uses(facts: Facts) -> tuple[GaugeUsed, ...]:
    """Each gauge on each day that something was read with it for the proof."""
    proof = facts.proof
    found: dict[tuple[object, ...], GaugeUsed] = {}
    for (step, what), entry in facts.state.measured.items() if proof else ():
        body = entry.body
        assert proof is not None
        if not isinstance(body, ProofMeasured) or not body.gauge:
            continue
        if (step, what) not in proof.told.measured:
            continue
        gauge = proof.told.gauges.get(body.gauge)
        if gauge is None:
            why = f"the shop has no gauge {body.gauge}"
            used = GaugeUsed(name=body.gauge, step=step, trouble=why)
        else:
            state = state_on(gauge, entered_on(entry), reading=_mean(body))
            used = GaugeUsed(
                name=gauge.name, step=step, trouble="" if state.usable else state.reason
            )
        found.setdefault((body.gauge, entered_on(entry), used.trouble), used)
    return tuple(found.values())


def _mean(body: ProofMeasured) -> float:
    return sum(body.values) / len(body.values)


def _say(what: str, sentence: str, key: str = "") -> Missing:
    return Missing(stage="prove", what=what, sentence=sentence, address=(key, "", ""))
