"""Findings on the brake: held, for how long, creep, pawls, free play."""

from __future__ import annotations

import attrs

from hoistwright.metrology import Outcome
from hoistwright.prove.case import Case, budget
from hoistwright.prove.criteria import proof_criteria
from hoistwright.prove.finding import (
    Band,
    Measured,
    ProofFinding,
    held_against,
    not_established,
)
from hoistwright.quantity import Dimension

NO_CREEP = "no_creep"
"""Key of the look for creep."""


def hold_time(case: Case) -> ProofFinding:
    key, name = "hold time", "time the load was held"
    hold = case.record.hold
    if hold is None:
        return not_established(
            key, name, "no hold was recorded", "Lift, lower a little, stop, hold.", required=True
        )
    practice = proof_criteria().hold
    asked = case.needed.hold
    source, least = ("the needed test", asked) if asked else (practice.source, practice.least)
    fit = hold.held and hold.seconds >= least
    return ProofFinding(
        key=key, name=name, outcome=Outcome.FIT if fit else Outcome.RENEW, required=True,
        why=f"held {hold.seconds:g} s of {float(least):g} s asked",
        next_step="" if fit else "Hold again for the whole time.",
        value=hold.seconds, u=0.0, low=float(least), dimension=Dimension.TIME, unit="s",
        source=source, known=None if asked else practice.known,
    )  # fmt: skip


def held(case: Case) -> ProofFinding:
    key, name = "brake holds", "load held by the brake"
    hold = case.record.hold
    if hold is None:
        return not_established(key, name, "not recorded", "Hold the load.", required=True)
    if hold.held:
        return ProofFinding(
            key=key, name=name, outcome=Outcome.FIT, required=True, why="the load did not run"
        )
    return ProofFinding(
        key=key, name=name, outcome=Outcome.RENEW, required=True, why="the load ran away",
        next_step="Take the load off with another hoist; open the brake.",
    )  # fmt: skip


def creep_look(case: Case) -> ProofFinding:
    """No creep to be seen: practice, and contradicted by a creep that was measured."""
    key, name, source = "no creep seen", "no creep to be seen", "practice"
    answer = case.record.look(NO_CREEP)
    crept = _creep_beyond_doubt(case)
    if crept or answer == "no":
        why = "creep was measured beyond its uncertainty" if crept else "creep was seen"
        outcome, step = Outcome.RENEW, "Take the load off; open the brake."
    elif answer == "yes":
        why, outcome, step = "looked at: no creep", Outcome.FIT, ""
    else:
        return not_established(key, name, "not looked at", "Hold and look.", required=True)
    return ProofFinding(
        key=key, name=name, outcome=outcome, required=True, why=why, next_step=step,
        source=source, known="practice",
    )  # fmt: skip


def _creep_beyond_doubt(case: Case) -> bool:
    hold = case.record.hold
    if hold is None or hold.creep is None:
        return False
    read = budget(hold.creep, case.record.day)
    if isinstance(read, str):
        return False
    value, u, _, gauge = read
    step = hold.creep.gauge.resolution if hold.creep.gauge else 0.0
    return value - 2 * u > 3 * step if gauge else False


def creep(case: Case) -> ProofFinding:
    """Against the maker's limit. No limit was ever published for hand hoists."""
    key, name = "creep", "creep while held"
    hold, limit = case.record.hold, case.creep_limit
    required = limit is not None
    if hold is None or hold.creep is None:
        step = "Measure it with a dial gauge." if required else ""
        return not_established(key, name, "creep was not measured", step, required=required)
    read = budget(hold.creep, case.record.day)
    if isinstance(read, str):
        return not_established(key, name, read, "Measure it again.", required=required)
    value, u, dof, gauge = read
    measured = Measured(
        value=value, u=u, dof=dof, dimension=Dimension.LENGTH, unit="mm", gauge=gauge
    )
    if limit is None:
        bare = held_against(key, name, measured, Band(), case.rule, required=False)
        why = f"{bare.text} in {hold.seconds:g} s; no limit is published and the maker states none"
        return attrs.evolve(bare, why=why)
    if hold.seconds <= 0:
        return not_established(key, name, "the time of the hold is missing", required=True)
    per = hold.seconds / limit.seconds
    band = Band(high=limit.most * per, source=limit.source)
    return held_against(
        key, name, measured, band, case.rule, required=True,
        next_step="Take the load off; open the brake.",
    )  # fmt: skip


def pawls(case: Case) -> ProofFinding:
    key, name = "pawls heard", "every pawl heard"
    clicks = case.record.clicks
    if clicks is None or clicks.pawls_heard is None or case.machine is None:
        missing = case.why_no_machine if case.machine is None else "not listened for"
        return not_established(key, name, missing, "Raise slowly and listen.", required=True)
    heard, there = clicks.pawls_heard, case.machine.pawls
    fit = heard >= there
    return ProofFinding(
        key=key, name=name, outcome=Outcome.FIT if fit else Outcome.RENEW, required=True,
        why=f"{heard} of {there} pawls heard", source="practice", known="practice",
        next_step="" if fit else "Do not lift: find the silent pawl.",
    )  # fmt: skip


def free_play(case: Case) -> ProofFinding:
    key, name = "free play", "free play of the hand wheel"
    play = case.record.free_play
    if play is None or case.machine is None:
        missing = case.why_no_machine if case.machine is None else "not measured"
        return not_established(key, name, missing, required=False)
    read = budget(play, case.record.day)
    if isinstance(read, str):
        return not_established(key, name, read, "Measure it again.", required=False)
    value, u, dof, gauge = read
    shares, designed = proof_criteria().free_play_share, case.machine.free_play
    band = Band(
        low=shares.low * designed, high=shares.high * designed, source=shares.source,
        known=shares.known,
    )  # fmt: skip
    measured = Measured(
        value=value, u=u, dof=dof, dimension=Dimension.LENGTH, unit="mm", gauge=gauge
    )
    return held_against(
        key, name, measured, band, case.rule, required=False,
        next_step="Set the lock nut as the design says; measure the discs.",
    )  # fmt: skip
