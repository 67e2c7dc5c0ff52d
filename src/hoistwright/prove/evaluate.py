"""What the proof found, held against what the design, the bases and the maker ask for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from hoistwright.metrology import GUARDED, DecisionRule, Outcome
from hoistwright.prove import found_brake, found_drive, found_hand
from hoistwright.prove.bed import Applied
from hoistwright.prove.case import Case
from hoistwright.prove.criteria import CreepLimit
from hoistwright.prove.finding import ProofFinding, ProofResult, not_established
from hoistwright.prove.machine import Machine
from hoistwright.prove.record import ProofRecord
from hoistwright.prove.sequence import ProofStep
from hoistwright.prove.tests_needed import NeededTests
from hoistwright.quantity import Dimension


def evaluate(
    record: ProofRecord,
    needed: NeededTests,
    *,
    steps: Sequence[ProofStep] = (),
    machine: Machine | None = None,
    why_no_machine: str = "the design's figures are not complete",
    applied: Applied | None = None,
    creep_limit: CreepLimit | None = None,
    rule: DecisionRule = GUARDED,
) -> ProofResult:
    """Hold a proof's record against what it must show.

    Load within its band and lifted; held for the time asked; no creep to be seen; creep against the
    maker's limit; efficiency eta = W / (P VR) against the designed losses; clicks and hand path
    for each metre against the design; lever strokes and warmth of the cover, to inform;
    limiter's slip load in its band; every look answered.

    Args:
        record: what was recorded.
        needed: the tests that the job needs.
        steps: the test sequence: each of its questions must be answered with yes.
        machine: the design's figures; None where they are not complete.
        why_no_machine: what is missing then.
        applied: the load that was really on the hook; None where none was.
        creep_limit: the maker's limit on creep; None where there is none.
        rule: the decision rule.

    Returns:
        The findings. What is missing is not established, never fit.

    Raises:
        ValueError: a record with impossible figures.

    References:
        JCGM 100:2008 (GUM), 5.1; JCGM 106:2012, 8.3; Khurmi, Engineering Mechanics, ch. 10
        (efficiency of lifting machines); limits and their sources: `criteria.toml`.
    """
    case = Case(
        record=record,
        machine=machine,
        why_no_machine=why_no_machine,
        needed=needed,
        applied=applied,
        creep_limit=creep_limit,
        rule=rule,
    )
    return ProofResult(findings=(*_findings(case, steps), *_looks(record, steps)))


def _findings(case: Case, steps: Sequence[ProofStep]) -> Iterator[ProofFinding]:
    yield _lifted(_load(case), record=case.record, steps=steps)
    yield found_brake.hold_time(case)
    yield found_brake.held(case)
    yield found_brake.creep_look(case)
    yield found_brake.creep(case)
    yield found_brake.pawls(case)
    yield found_drive.efficiency(case)
    yield from found_drive.speed(case)
    yield found_drive.clicks(case)
    yield found_drive.travel(case)
    yield from found_hand.strokes(case)
    yield found_brake.free_play(case)
    yield from found_hand.cover(case)
    if case.machine is not None and case.machine.limiter is not None:
        yield found_drive.slip(case)


def _load(case: Case) -> ProofFinding:
    key, name = "load", "load applied"
    if case.needed.extent == "not established":
        return not_established(
            key, name, case.needed.why,
            "A competent person states the test load and its source.", required=True,
        )  # fmt: skip
    if case.needed.band is None:
        return ProofFinding(
            key=key, name=name, outcome=Outcome.FIT, required=False,
            why=f"no test load is needed: {case.needed.why}",
        )  # fmt: skip
    if case.applied is None:
        return not_established(
            key, name, "no test load was applied", "Apply the test load.", required=True
        )
    found = case.applied
    return ProofFinding(
        key=key, name=name, outcome=found.outcome, required=True, why=found.why,
        next_step="" if found.outcome is Outcome.FIT else "Change the load and prove again.",
        value=found.load, u=found.u, low=found.low, high=found.high, guard=found.guard,
        dimension=Dimension.MASS, unit="kg", source="; ".join(_sources(case.needed)),
        gauge=found.how,
    )  # fmt: skip


def _lifted(
    found: ProofFinding, *, record: ProofRecord, steps: Sequence[ProofStep]
) -> ProofFinding:
    """A load that is only chosen proves nothing: it must have been lifted and held."""
    lift = next((step for step in steps if "load" in step.record), None)
    if lift is None or not found.required or found.outcome is not Outcome.FIT:
        return found
    answer = record.look(lift.look)
    if answer == "yes":
        return found
    if answer == "no":
        outcome, why, step = Outcome.RENEW, "the test load was not held when lifted", lift.if_not
    else:
        outcome, why = Outcome.NOT_ESTABLISHED, "the test load was not lifted yet"
        step = f"Do the step: {lift.name}."
    return attrs.evolve(found, outcome=outcome, why=why, next_step=step)


def _sources(needed: NeededTests) -> tuple[str, ...]:
    loads = [test for test in needed.needed if test.kind == "load test"]
    return tuple(dict.fromkeys(f"{test.source}, {test.clause} ({test.known})" for test in loads))


def _looks(record: ProofRecord, steps: Sequence[ProofStep]) -> Iterator[ProofFinding]:
    """One finding for each question of the sequence."""
    for step in steps:
        if step.look and step.look != found_brake.NO_CREEP:
            yield _look(record, step)


def _look(record: ProofRecord, step: ProofStep) -> ProofFinding:
    answer = record.look(step.look)
    if answer == "not looked at":
        return not_established(
            step.look, step.question, "not looked at", f"Do the step: {step.name}.", required=True
        )
    fit = answer == "yes"
    return ProofFinding(
        key=step.look, name=step.question, outcome=Outcome.FIT if fit else Outcome.RENEW,
        required=True, why=f"answered {answer}", next_step="" if fit else step.if_not,
        source="practice", known="practice",
    )  # fmt: skip
