"""Load brake: does it lock, how hard is it clamped, what lowers, what free play."""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.check import mechanism
from hoistwright.check.brake_rows import (
    CLAMP,
    CLAMP_HELD,
    CLOSING,
    DRY_HIGH,
    DRY_LOW,
    FREE_PLAY,
    GLAZED,
    GREASY,
    LEAD_ANGLE,
    LOWERING,
    OILY,
    PRESSURE,
    PRESSURE_HELD,
    WORN,
)
from hoistwright.check.facts import Fact, constant, derive, stated, stated_or
from hoistwright.check.model import Finding
from hoistwright.check.practice import usual
from hoistwright.check.rows import Bound, Row, findings
from hoistwright.hoist.design import Design
from hoistwright.physics import disc, load_brake, screw
from hoistwright.physics.friction import FACE_BANDS

_MEND = "Check thread lead and diameter, disc diameters and lining: this brake does not hold."


def brake_findings(design: Design) -> Iterator[Finding]:
    """Lock ratio for each state of the faces, clamp, pressure, lowering, free play."""
    thread = _thread(design)
    yield from findings(LEAD_ANGLE, thread[1])
    for row, friction in (
        (DRY_LOW, "friction_dry_low"),
        (DRY_HIGH, "friction_dry_high"),
        (OILY, "friction_oily_low"),
    ):
        yield from _lock(design, row, friction)
    yield from _states(design)
    yield from _clamp(design)
    yield from _lowering(design)
    yield from _free_play(design)


def _lock(design: Design, row: Row, friction: str) -> Iterator[Finding]:
    ratio = lock_ratio(design, friction)
    key = f"load_brake.{friction}"
    if row is OILY:  # no such brake holds with soaked faces: a fact to know, not a fault
        yield from findings(row, ratio, *usual("lock ratio", key=key, severity=None))
        return
    must = usual("lock ratio", key=key, severity="wrong", mend=_MEND)
    yield from findings(row, ratio, *must, *usual("lock ratio, margin", key=key, mend=_MEND))


def _states(design: Design) -> Iterator[Finding]:
    """Lock ratio at the lowest credible friction of a glazed and of a greasy face."""
    for row, state in ((GLAZED, "worn"), (GREASY, "greasy")):
        ratio = _ratio_at(design, constant(FACE_BANDS[state].low))
        yield from findings(row, ratio, *usual("lock ratio", key="load_brake", severity=None))


def lock_ratio(design: Design, friction: str) -> Fact:
    """S with the face friction stated at a key of the load brake."""
    return _ratio_at(design, stated(design, f"load_brake.{friction}"))


def _ratio_at(design: Design, mu: Fact) -> Fact:
    return derive(load_brake.lock_ratio, mu, face_radius(design), *_thread(design))


def face_radius(design: Design) -> Fact:
    """Effective radius of a face that has run in, m."""
    return derive(disc.radius_uniform_wear, *_radii(design))


def _radii(design: Design) -> tuple[Fact, Fact]:
    outer = derive(lambda D: D / 2, stated(design, "load_brake.disc_outer_diameter"))
    inner = derive(lambda D: D / 2, stated(design, "load_brake.disc_inner_diameter"))
    return outer, inner


def _thread(design: Design) -> tuple[Fact, Fact, Fact]:
    """Mean radius, lead angle, friction angle of the brake thread."""
    radius = derive(lambda d: d / 2, stated(design, "load_brake.thread_pitch_diameter"))
    lead = derive(screw.lead_angle, stated(design, "load_brake.thread_lead"), radius)
    flank = stated_or(design, "load_brake.thread_flank_angle", 0.0)
    friction = stated(design, "load_brake.thread_friction")
    return radius, lead, derive(screw.thread_friction_angle, friction, flank)


def held_clamp(design: Design) -> Fact:
    """Clamp that the hanging rated load leaves, at the lowest dry friction, N."""
    return _clamp_at(design, mechanism.load_torque(design))


def clamp_force(design: Design) -> Fact:
    """Greatest clamp at rated load, at the lowest dry friction: raising or held, N.

    Raising, the same clamp passes on the torque of the load and of all losses behind the brake,
    and it stays when the hand lets go.
    """
    raised = _clamp_at(design, mechanism.raising_torque(design))
    return derive(max, held_clamp(design), raised)


def _clamp_at(design: Design, torque: Fact) -> Fact:
    return derive(
        load_brake.clamp_force,
        torque,
        stated(design, "load_brake.friction_dry_low"),
        face_radius(design),
        *_thread(design),
    )


def _clamp(design: Design) -> Iterator[Finding]:
    held, greatest = held_clamp(design), clamp_force(design)
    yield from findings(CLAMP_HELD, held)
    yield from findings(CLAMP, greatest)
    yield from _pressure(design, PRESSURE_HELD, held)
    yield from _pressure(design, PRESSURE, greatest)


def _pressure(design: Design, row: Row, clamp: Fact) -> Iterator[Finding]:
    bound = Bound(
        sense="at most",
        fact=stated(design, "load_brake.permitted_face_pressure"),
        source="permitted pressure as stated in the design",
        key="load_brake.disc_outer_diameter",
        mend="Check disc diameters and lining.",
    )
    yield from findings(row, derive(disc.mean_pressure, clamp, *_radii(design)), bound)


def _lowering(design: Design) -> Iterator[Finding]:
    """Pull that lowers the rated load, at the highest dry friction."""
    torque = derive(
        load_brake.lowering_torque,
        mechanism.load_torque(design),
        lock_ratio(design, "friction_dry_high"),
    )
    yield from findings(LOWERING, derive(lambda T, r: T / r, torque, hand_radius(design)))


def hand_radius(design: Design) -> Fact:
    """Radius at which the hand pulls: hand chain wheel or lever, m."""
    if design.identity.kind == "lever hoist":
        return stated(design, "hand_drive.lever_length")
    return derive(lambda D: D / 2, mechanism.hand_wheel_diameter(design))


def _free_play(design: Design) -> Iterator[Finding]:
    play = derive(
        load_brake.axial_clearance,
        stated(design, "load_brake.set_back_turns"),
        stated(design, "load_brake.lock_nut_pitch"),
    )
    mend = "Set the lock nut as the maker says; the wheel must move freely over a small range."
    bounds = usual("brake free play", key="load_brake.set_back_turns", mend=mend)
    yield from findings(FREE_PLAY, play, *bounds)
    lead = stated(design, "load_brake.thread_lead")
    yield from findings(CLOSING, derive(load_brake.closing_turns, play, lead))
    worn = derive(
        lambda c, new, least: c + 2 * max(0.0, new - least),
        play,
        stated(design, "load_brake.lining_new"),
        stated(design, "load_brake.lining_minimum"),
    )
    yield from findings(WORN, derive(load_brake.closing_turns, worn, lead))
