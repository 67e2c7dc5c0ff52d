"""A hoist on the test stand, simulated in time, with one fault of a chosen size.

For tests and training. Apart from the diagnosis it has its own model of friction in the teeth
(by the tooth loss formula), of the turning polygon (corner by corner), of the pawls (tooth by
tooth), its own sizes of faults, and gauges that round and hands that shake. It shares with the
diagnosis the statics of falls and load brake and the list of mix-ups: a mistake in those would
not show here, and is looked for in the checks of the mechanics.
"""

from __future__ import annotations

import datetime
import math

import attrs
import numpy as np

from hoistwright.metrology import Gauge
from hoistwright.physics import drive, load_brake, pocket_wheel, reeving
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.machine import Machine
from hoistwright.prove.record import (
    Clicks,
    Floats,
    Hold,
    ProofRecord,
    Pull,
    PullSeries,
    Readings,
    Slip,
    Travel,
)
from hoistwright.prove.sim_insides import Insides, insides
from hoistwright.quantity import Dimension

DAY = datetime.date(2026, 11, 25)
HOLD = 60.0
FALLS_TO_FLOOR = 0.1
"""A load that sinks further than this in the hold has run away, m."""


def _gauge(name: str, dimension: Dimension, resolution: float, uncertainty: float) -> Gauge:
    return Gauge(
        name, name, name, dimension, resolution, uncertainty,
        calibrated_on=datetime.date(2026, 1, 5), due_on=datetime.date(2027, 1, 4),
    )  # fmt: skip


BALANCE = _gauge("spring balance", Dimension.FORCE, 2.0, 4.0)
CELL = _gauge("load cell", Dimension.FORCE, 0.5, 2.0)
DIAL = _gauge("dial gauge", Dimension.LENGTH, 1e-5, 2e-5)
RULE = _gauge("steel rule", Dimension.LENGTH, 5e-4, 2e-4)
TAPE = _gauge("tape", Dimension.LENGTH, 1e-3, 1e-3)
BED = _gauge("bed load cell", Dimension.MASS, 1.0, 4.0)


@attrs.frozen(eq=False)
class _Stand:
    """One hoist on the stand, and the chance that rules there."""

    machine: Machine
    inside: Insides
    rng: np.random.Generator


def simulate(
    machine: Machine, fault: str, severity: float, rng: np.random.Generator, load: float
) -> ProofRecord:
    """Prove a simulated hoist that has one fault.

    Args:
        machine: the hoist as designed.
        fault: key of the fault, or "none".
        severity: from 0 (just a fault) to 1 (as bad as it gets).
        rng: the chance in hoist, hands and gauges.
        load: test load, kg.

    Returns:
        What a technician would record.

    Raises:
        ValueError: a severity outside 0 to 1, or no such fault.

    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.prove.machine import machine_of
    >>> rng = np.random.default_rng(1)
    >>> record = simulate(machine_of(shipped("ardle-500")), "none", 0.0, rng, 500.0)
    >>> record.hold.held, record.clicks.pawls_heard
    (True, 2)

    References:
        formulas of `hoistwright.physics`; sizes of faults invented.
    """
    if not 0 <= severity <= 1:
        raise ValueError(f"severity: given {severity}; expected 0 to 1.")
    stand = _Stand(machine, insides(machine, fault, severity, rng), rng)
    up = _raise_load(stand, load)
    light = 0.1 * load
    pulls: tuple[Pull, ...] = (
        Pull(pull=_by_hand(stand, _pull_up(stand, light)), load=light),
        Pull(pull=_by_hand(stand, _pull_down(stand, load)), load=load, direction="lowering"),
    )
    slips = stand.inside.slip * machine.rated
    if slips < load:  # it does not go up; the pull is that at which the limiter slips
        pulls = (*pulls, Pull(pull=_by_hand(stand, _pull_up(stand, slips)), load=load))
    return ProofRecord(
        day=DAY,
        pulls=pulls,
        series=() if slips < load else (up,),
        hold=_hold(stand, load),
        clicks=_clicks(stand),
        travel=_travel(stand),
        slip=_slip(stand),
        free_play=_read(stand, stand.inside.play, DIAL, 4e-5, 2),
        stop_drop=_read(stand, _drop(stand), RULE, 2e-4, 3),
    )


def _read(stand: _Stand, value: float, gauge: Gauge, shake: float, times: int) -> Readings:
    """Readings as a gauge gives them: shaken, off by its calibration, rounded to its steps."""
    off = stand.rng.normal(0, gauge.calibration_uncertainty / 2)
    shaken = value + off + stand.rng.normal(0, shake, times)
    steps = np.round(shaken / gauge.resolution) * gauge.resolution
    return Readings(readings=tuple(float(max(step, 0.0)) for step in steps), gauge=gauge)


def _by_hand(stand: _Stand, pull: float) -> Readings:
    return _read(stand, pull, BALANCE, 0.01 * pull + 1.0, 3)


def _mesh_losses(stand: _Stand) -> float:
    """Efficiency of both meshes with the friction that the teeth have."""
    z1, z2, z3, z4 = stand.machine.teeth
    mu = stand.inside.tooth_friction
    first, second = drive.mesh_efficiency(z1, z2, mu), drive.mesh_efficiency(z3, z4, mu)
    return float(first) * float(second)


def _pull_up(stand: _Stand, load: float) -> float:
    """Mean pull, without ripple."""
    machine, inside = stand.machine, stand.inside
    live = float(reeving.live_fall_force(load * STANDARD_GRAVITY, inside.falls, machine.idle))
    at_shaft = live * inside.chain_per_turn / (2 * math.pi) / inside.ratio
    torque = at_shaft / (_mesh_losses(stand) * inside.rest) * (1 + inside.extra) + inside.drag
    return torque / machine.hand_radius


def _pull_down(stand: _Stand, load: float) -> float:
    """Turn the wheel back against the brake: clamp it, then see what the hand must add."""
    machine, inside = stand.machine, stand.inside
    weight = load * STANDARD_GRAVITY
    live = float(reeving.live_fall_force_lowering(weight, inside.falls, machine.idle))
    back = live * inside.chain_per_turn / (2 * math.pi) / inside.ratio
    back *= _mesh_losses(stand) * inside.rest
    if not inside.pawls_fall.any():
        return 0.0
    clamp = inside.jam * _clamp(stand, back)
    hand = 2 * inside.face_friction * clamp * machine.face_radius - back
    return max((hand + inside.drag) / machine.hand_radius, 0.0)


def _thread_arm(stand: _Stand) -> float:
    machine = stand.machine
    return machine.thread_radius * math.tan(machine.lead_angle + machine.thread_friction)


def _clamp(stand: _Stand, torque: float) -> float:
    """The load winds the brake up, step by step, as long as the faces hold the wheel."""
    face, thread = stand.inside.face_friction * stand.machine.face_radius, _thread_arm(stand)
    clamp = 0.2 * torque / (face + thread)
    if face <= thread:  # the wheel is dragged along: nothing winds up
        return clamp
    for _ in range(200):
        clamp += 0.2 * (torque - clamp * face - clamp * thread) / (face + thread)
    return clamp


def _hold(stand: _Stand, load: float) -> Hold:
    inside, machine = stand.inside, stand.machine
    lock = float(
        load_brake.lock_ratio(
            inside.face_friction, machine.face_radius, machine.thread_radius,
            machine.lead_angle, machine.thread_friction,
        )
    )  # fmt: skip
    sunk = abs(stand.rng.normal(0, 2e-5))
    if lock < 1 or not inside.pawls_fall.any():
        rate = 10 ** stand.rng.uniform(0.7, 3.2) * 1e-3 / 60
        sunk = rate * HOLD
    elif inside.oily and lock < 1.08:
        sunk = stand.rng.uniform(2e-4, 2e-3)
    if sunk > FALLS_TO_FLOOR:
        return Hold(seconds=HOLD, load=load, held=False)
    return Hold(seconds=HOLD, load=load, creep=_read(stand, sunk, DIAL, 2e-5, 2))


def _turns_per_lift(stand: _Stand) -> float:
    return stand.inside.falls * stand.inside.ratio / stand.inside.chain_per_turn


def _lift(stand: _Stand) -> float:
    """Two and a half turns of the load sheave."""
    return 2.5 * stand.inside.chain_per_turn / stand.inside.falls


def _clicks(stand: _Stand) -> Clicks:
    """Tooth by tooth: a click is heard if any pawl falls in time."""
    lift = max(_lift(stand), 0.3)
    teeth = int(lift * _turns_per_lift(stand) * stand.machine.ratchet_teeth + stand.rng.random())
    falls = stand.rng.random((teeth, stand.inside.pawls_fall.size)) < stand.inside.pawls_fall
    count = int(falls.any(axis=1).sum())
    told = falls.mean(axis=0) > stand.rng.uniform(0.75, 0.97)
    return Clicks(count=count, lift=_read(stand, lift, TAPE, 5e-4, 1), pawls_heard=int(told.sum()))


def _travel(stand: _Stand) -> Travel:
    lift = max(_lift(stand), 0.3)
    hand = lift * _turns_per_lift(stand) * 2 * math.pi * stand.machine.hand_radius
    return Travel(
        hand=_read(stand, hand, TAPE, 0.003 * hand, 1), lift=_read(stand, lift, TAPE, 5e-4, 1)
    )


def _drop(stand: _Stand) -> float:
    """The wheel closes, then the ratchet turns on to the next tooth that a pawl catches."""
    inside = stand.inside
    if not inside.pawls_fall.any():
        return 0.05
    closing = inside.play / stand.machine.lead
    teeth = stand.rng.random()
    while not (stand.rng.random(inside.pawls_fall.size) < inside.pawls_fall).any() and teeth < 20:
        teeth += 1
    return (closing + teeth / stand.machine.ratchet_teeth) / _turns_per_lift(stand)


def _slip(stand: _Stand) -> Slip | None:
    if stand.machine.limiter is None:
        return None
    load = stand.inside.slip * stand.machine.rated
    return Slip(load=_read(stand, load, BED, 0.01 * load, 3))


def _raise_load(stand: _Stand, load: float) -> PullSeries:
    """The pull on a load cell in the hand chain, moment by moment."""
    machine, rng = stand.machine, stand.rng
    samples_per_turn = 3.2 * machine.teeth[0]
    turns = _lift(stand) * _turns_per_lift(stand)
    count = int(turns * samples_per_turn)
    speed = 1 + 0.15 * np.sin(2 * np.pi * np.arange(count) / rng.uniform(40, 90))
    theta = np.cumsum(speed * rng.uniform(0.9, 1.1, count)) / samples_per_turn
    pull = _pull_up(stand, load) * _shape(stand, theta)
    pull *= 1 + _shaking(rng, count, 0.02)
    pull = np.round((pull + rng.normal(0, 1.0)) / CELL.resolution) * CELL.resolution
    return PullSeries(
        time=np.arange(1, count + 1) / 25.0,
        pull=pull,
        load=load,
        travel=theta * 2 * math.pi * machine.hand_radius,
        gauge=CELL,
    )


def _shaking(rng: np.random.Generator, count: int, size: float) -> Floats:
    """Noise of a hand: what it is now hangs on what it was."""
    white = rng.normal(0, size, count + 5)
    return np.convolve(white, np.ones(6) / math.sqrt(6), mode="valid")


def _shape(stand: _Stand, theta: Floats) -> Floats:
    """Pull over its mean as polygon, shafts, layshafts and teeth turn."""
    machine, inside = stand.machine, stand.inside
    start = stand.rng.uniform(0, 1, 5)
    at_sheave = theta / inside.ratio + start[0]
    shape = _polygon(machine, at_sheave) * (1 + _climbing(inside, machine.pockets, at_sheave))
    shape = shape * (1 + inside.runout[0] * np.cos(2 * np.pi * at_sheave))
    layshaft = 2 * np.pi * (theta * machine.teeth[0] / machine.teeth[1] + start[1])
    shape *= 1 + inside.layshaft * (0.8 * np.cos(layshaft) + 0.2 * np.cos(3 * layshaft))
    shaft = 2 * np.pi * (theta + start[2])
    shape *= 1 + inside.bend * (np.cos(shaft) + 0.25 * np.cos(2 * shaft))
    tooth = 2 * np.pi * (theta * machine.teeth[0] + start[3])
    return np.asarray(shape * (1 + inside.tooth * np.cos(tooth)), dtype=np.float64)


def _polygon(machine: Machine, turns: Floats) -> Floats:
    """The arm as the outermost corner of the turning polygon."""
    d = float(pocket_wheel.pitch_diameter(machine.pockets, machine.pitch, machine.wire))
    long = 2 * math.asin((machine.pitch + machine.wire) / d)
    short = 2 * math.asin((machine.pitch - machine.wire) / d)
    steps = np.cumsum([long, short] * machine.pockets)
    corners = np.cos(2 * np.pi * turns[:, None] + steps[None, :])
    arm = d / 2 * corners.max(axis=1)
    return np.asarray(arm / (machine.pockets * machine.pitch / math.pi), dtype=np.float64)


def _climbing(inside: Insides, pockets: int, turns: Floats) -> Floats:
    """A link that does not seat climbs, and snaps down at the end of its pocket."""
    place = turns * pockets
    bad = inside.bad_pockets[np.floor(place).astype(int) % pockets]
    return np.asarray(inside.climb * bad * (2 * (place % 1.0) - 1), dtype=np.float64)
