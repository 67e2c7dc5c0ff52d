"""Findings on the drive: efficiency, speed, clicks and hand path, limiter."""

from __future__ import annotations

import math
from collections.abc import Iterator

import attrs

from hoistwright.metrology import Outcome, rectangular
from hoistwright.physics import drive
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.case import Case, budget
from hoistwright.prove.criteria import Shares, proof_criteria
from hoistwright.prove.finding import (
    Band,
    Measured,
    ProofFinding,
    held_against,
    not_established,
)
from hoistwright.prove.machine import Machine
from hoistwright.prove.pull_speed import pull_against_speed
from hoistwright.prove.record import Pull
from hoistwright.prove.wrong_parts import wrong_parts
from hoistwright.quantity import Dimension


def _raising(case: Case) -> Pull | None:
    """The pull that raised the heaviest load."""
    up = [pull for pull in case.record.pulls if pull.direction == "raising" and pull.load > 0]
    return max(up, key=lambda pull: pull.load, default=None)


def efficiency(case: Case) -> ProofFinding:
    """W / (P VR); relative uncertainties of load and pull together."""
    key, name = "efficiency", "efficiency found"
    pull = _raising(case)
    if pull is None:
        return not_established(
            key, name, "no pull was recorded while raising", "Read the pull.", required=False
        )
    if case.machine is None:
        return not_established(key, name, case.why_no_machine, required=False)
    read = budget(pull.pull, case.record.day)
    if isinstance(read, str):
        return not_established(key, name, read, "Read the pull again.", required=False)
    value, u, dof, gauge = read
    if value <= 0:
        return not_established(key, name, "the pull is not above 0", required=False)
    load_u = _load_uncertainty(case, pull)
    weight = pull.load * STANDARD_GRAVITY
    eta = float(drive.efficiency_found(weight, value, case.machine.velocity_ratio))
    measured = Measured(
        value=eta, u=eta * math.hypot(u / value, load_u), dof=dof, unit="%", gauge=gauge
    )
    return held_against(
        key, name, measured, _expected_efficiency(case.machine), case.rule, required=False,
        next_step="See the diagnosis: too low is friction, above the band a wrong figure.",
    )  # fmt: skip


def _load_uncertainty(case: Case, pull: Pull) -> float:
    """Relative u of the load, where the pull was read under the load that was weighed."""
    found = case.applied
    if found is None or not math.isfinite(found.load):
        return 0.0
    return found.u / found.load if abs(found.load - pull.load) <= 0.02 * pull.load else 0.0


def _expected_efficiency(machine: Machine) -> Band:
    shares, loss = proof_criteria().efficiency_losses, 1 - machine.efficiency
    return Band(
        low=max(1 - shares.high * loss, 0.0),
        high=min(1 - shares.low * loss, 1.0),
        source=shares.source,
        known=shares.known,
    )


def speed(case: Case) -> Iterator[ProofFinding]:
    found = pull_against_speed(case.record.pulls)
    if found is None:
        return
    measured = Measured(value=found.slope, u=found.u, dof=found.dof, dimension=Dimension.NUMBER)
    bare = held_against(
        "pull against speed", "pull against speed", measured, Band(), case.rule, required=False
    )
    yield attrs.evolve(bare, why=found.why)


def _share(shares: Shares) -> Band:
    return Band(low=shares.low, high=shares.high, source=shares.source, known=shares.known)


def clicks(case: Case) -> ProofFinding:
    key, name = "clicks", "clicks for each metre, over the expected"
    clicks = case.record.clicks
    if clicks is None:
        return not_established(key, name, "clicks were not counted", required=False)
    if case.machine is None:
        return not_established(key, name, case.why_no_machine, required=False)
    read = budget(clicks.lift, case.record.day)
    if isinstance(read, str):
        return not_established(key, name, read, "Measure the lift again.", required=False)
    lift, u, dof, gauge = read
    if lift <= 0:
        return not_established(key, name, "the lift is not above 0", required=False)
    expected = case.machine.clicks_per_lift * lift
    ratio = clicks.count / expected
    counted = float(rectangular(0.5)) / expected
    measured = Measured(value=ratio, u=math.hypot(counted, ratio * u / lift), dof=dof, gauge=gauge)
    found = held_against(
        key, name, measured, _share(proof_criteria().turns_share), case.rule, required=False,
        next_step="Count teeth, pockets, falls and the chain's pitch against the design.",
    )  # fmt: skip
    return _with_mix_up(found, case.machine)


def _with_mix_up(found: ProofFinding, machine: Machine) -> ProofFinding:
    """Name the mix-ups that would give just this ratio."""
    if found.outcome is not Outcome.RENEW:
        return found
    near = [
        part.what
        for part in wrong_parts(machine)
        if abs(part.factor - found.value) <= max(3 * found.u, 0.003)
    ]
    told = f" It would fit: {', '.join(near)}." if near else ""
    return attrs.evolve(found, next_step=found.next_step + told)


def travel(case: Case) -> ProofFinding:
    key, name = "hand path", "hand path for each metre, over the expected"
    travel = case.record.travel
    if travel is None or case.machine is None:
        missing = case.why_no_machine if case.machine is None else "not measured"
        return not_established(key, name, missing, required=False)
    hand = budget(travel.hand, case.record.day)
    lift = budget(travel.lift, case.record.day)
    if isinstance(hand, str) or isinstance(lift, str):
        why = hand if isinstance(hand, str) else str(lift)
        return not_established(key, name, why, "Measure it again.", required=False)
    if min(hand[0], lift[0]) <= 0:
        return not_established(key, name, "a path is not above 0", required=False)
    ratio = hand[0] / lift[0] / case.machine.velocity_ratio
    u = ratio * math.hypot(hand[1] / hand[0], lift[1] / lift[0])
    measured = Measured(value=ratio, u=u, gauge=hand[3])
    return held_against(
        key, name, measured, _share(proof_criteria().turns_share), case.rule, required=False
    )


def slip(case: Case) -> ProofFinding:
    key, name = "limiter", "slip load over rated load"
    slip, machine = case.record.slip, case.machine
    assert machine is not None
    assert machine.limiter is not None
    if slip is None:
        return not_established(
            key, name, "the limiter was not tried", "Try it on a test bed.", required=True
        )
    read = budget(slip.load, case.record.day)
    if isinstance(read, str):
        return not_established(key, name, read, "Try it again.", required=True)
    value, u, dof, gauge = read
    band = Band(low=machine.limiter.low, high=machine.limiter.high, source="design file")
    measured = Measured(value=value / machine.rated, u=u / machine.rated, dof=dof, gauge=gauge)
    found = held_against(
        key, name, measured, band, case.rule, required=True,
        next_step="Set the limiter on a test bed as the maker says; new seal.",
    )  # fmt: skip
    if slip.slipped:
        return found
    beyond = measured.value >= machine.limiter.high
    why = f"did not slip at {measured.value:.2f} times the rated load"
    outcome = Outcome.RENEW if beyond else Outcome.NOT_ESTABLISHED
    return attrs.evolve(found, outcome=outcome, why=why)
