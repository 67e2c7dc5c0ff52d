"""The forward model: what each fault makes of the observables, by the mechanics.

For many equally likely draws of friction, losses, sizes of fault and chance it gives the
observables that a hoist would show. Nothing is random: the draws are a low-discrepancy
sequence, so that the same proof always gives the same ranking.
"""

from __future__ import annotations

import functools

import attrs
import numpy as np
from numpy.typing import NDArray

from hoistwright.physics import load_brake, reeving
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.fault_data import Fault, FaultData, Sound, fault_data
from hoistwright.prove.machine import Machine
from hoistwright.prove.pocket_ripple import pocket_ripple
from hoistwright.prove.wrong_parts import wrong_ratios

Floats = NDArray[np.float64]
Draws = dict[str, Floats]

COLUMNS = (
    "losses", "friction", "drag", "shaft", "layshaft", "pocket", "sheave", "mesh", "play",
    "drop", "size", "second", "chance", "phase", "creep",
)  # fmt: skip
_PRIMES = np.array([2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53])
GLAZED = (0.15, 0.30)
"""Friction of a glazed lining, as in `hoistwright.physics.friction`."""
OILY_HIGH = 0.20


@attrs.frozen(kw_only=True)
class Loads:
    """Loads of the test and the light test, kg."""

    load: float
    light: float


@attrs.frozen(eq=False, kw_only=True)
class State:
    """The hoist's insides for every draw; faults change them before the observables follow."""

    mesh_loss: Floats
    rest_loss: Floats
    mu: Floats
    drag: Floats
    """Torque on the drive shaft, N m, that does not grow with the load."""
    clamp: Floats
    """Clamp there is over the clamp that the load leaves."""
    play: Floats
    """Times the free play as designed."""
    ripple: dict[str, Floats]
    pocket_extra: Floats
    clicks: Floats
    pawls: Floats
    teeth_missed: Floats
    factor: Floats
    """Turns of the drive shaft per lift over those designed."""
    slip: Floats
    pawls_hold: Floats
    up_extra: Floats


@functools.lru_cache(maxsize=4)
def draws(count: int) -> Draws:
    """Evenly spread numbers from 0 to 1, one column for each chance in the model.

    u_kj = frac(1/2 + k sqrt(prime j))

    Args:
        count: how many draws.

    Returns:
        A column of `count` numbers by name.

    >>> float(draws(4096)["losses"].mean().round(3))
    0.5

    References:
        Weyl's equidistribution by square roots of primes (Richtmyer's sequence); Niederreiter,
        Random Number Generation and Quasi-Monte Carlo Methods, ch. 3, from memory.
    """
    steps = np.sqrt(_PRIMES[: len(COLUMNS)])
    table = (0.5 + np.arange(1, count + 1)[:, None] * steps) % 1.0
    return {name: table[:, at] for at, name in enumerate(COLUMNS)}


def predict(machine: Machine, fault: str, loads: Loads, count: int = 2048) -> dict[str, Floats]:
    """What a hoist with this fault shows, for each of many equally likely cases.

    P_up = [F_live D / (2 i eta) + T_drag] / r; P_down = [T_load (2 c S / (S + 1) - 1) +
    T_drag] / r, T_load with the losses helping; it runs away where S < 1

    Args:
        machine: the hoist.
        fault: key of a fault of the data file.
        loads: the loads on the hook, kg.
        count: how many cases.

    Returns:
        A column of `count` figures for each observable (see `observables`), and "held",
        "lifted" and "pawls".

    Raises:
        ValueError: a load that is not above 0.
        KeyError: no such fault.

    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.prove.machine import machine_of
    >>> machine = machine_of(shipped("ardle-2000"))
    >>> seen = predict(machine, "oily_discs", Loads(load=2000, light=100))
    >>> print(f"{seen['held'].mean():.2f}")  # friction too low in the rest of the cases
    0.62

    References:
        `hoistwright.physics.drive`, `reeving`, `load_brake`; sizes of faults by common
        practice, see `diagnosis.toml`.
    """
    if not (loads.load > 0 and loads.light >= 0):
        raise ValueError(f"loads: given {loads.load} and {loads.light} kg; expected above 0.")
    data, u = fault_data(), draws(count)
    state = _faulty(machine, data.of(fault), u, _sound(machine, data.sound, u), loads)
    return _observables(machine, loads, state, u)


def applicable(machine: Machine) -> tuple[str, ...]:
    """Keys of the faults that this machine can have."""
    left_out = set() if machine.limiter else {"limiter_low", "limiter_high"}
    if machine.layshafts < 2:
        left_out.add("mistimed_layshaft")
    data: FaultData = fault_data()
    return tuple(fault.key for fault in data.fault if fault.key not in left_out)


def _between(ends: tuple[float, ...], u: Floats) -> Floats:
    return ends[0] + (ends[1] - ends[0]) * u


def _sound(machine: Machine, sound: Sound, u: Draws) -> State:
    ones, zeros = np.ones_like(u["losses"]), np.zeros_like(u["losses"])
    losses = _between(sound.losses, u["losses"])
    raising = _raising_torque(machine, machine.rated, machine.mesh**2 * machine.rest * ones)
    names = ("shaft", "layshaft", "sheave")
    ripple = {name: _between(sound.ripple, u[name]) for name in names}
    ripple["mesh"] = _between(sound.mesh_ripple, u["mesh"])
    return State(
        mesh_loss=(1 - machine.mesh) * losses,
        rest_loss=(1 - machine.rest) * losses,
        mu=_between(machine.dry, u["friction"]),
        drag=_between(sound.drag, u["drag"]) * raising,
        clamp=ones,
        play=_between(sound.free_play, u["play"]),
        ripple=ripple,
        pocket_extra=zeros,
        clicks=ones,
        pawls=machine.pawls * ones,
        teeth_missed=zeros,
        factor=ones,
        slip=_limiter(machine, u["second"]),
        pawls_hold=ones,
        up_extra=zeros,
    )


def _limiter(machine: Machine, u: Floats) -> Floats:
    if machine.limiter is None:
        return np.full_like(u, np.inf)
    return _between((machine.limiter.low, machine.limiter.high), u)


def _faulty(machine: Machine, fault: Fault, u: Draws, state: State, loads: Loads) -> State:
    """The sound state changed by a fault of each size."""
    size = _between(fault.size, u["size"])
    change = _CHANGES.get(fault.key)
    return state if change is None else change(machine, size, u, state)


def _dry_gears(_machine: Machine, size: Floats, u: Draws, s: State) -> State:
    mesh = s.ripple["mesh"] + 0.15 * s.mesh_loss * (size - 1) * (0.5 + u["second"])
    return attrs.evolve(s, mesh_loss=s.mesh_loss * size, ripple={**s.ripple, "mesh": mesh})


def _tight_bearing(machine: Machine, size: Floats, _u: Draws, s: State) -> State:
    raising = _raising_torque(machine, machine.rated, machine.mesh**2 * machine.rest + 0 * size)
    return attrs.evolve(s, drag=s.drag + size * raising)


def _mistimed(_machine: Machine, size: Floats, u: Draws, s: State) -> State:
    ripple = {**s.ripple, "layshaft": s.ripple["layshaft"] + size}
    return attrs.evolve(s, ripple=ripple, up_extra=size * u["second"])


def _not_seating(_machine: Machine, size: Floats, u: Draws, s: State) -> State:
    ripple = {**s.ripple, "sheave": s.ripple["sheave"] + 0.2 * size * u["chance"]}
    return attrs.evolve(s, pocket_extra=size, ripple=ripple, up_extra=0.4 * size * u["second"])


def _bent(_machine: Machine, size: Floats, u: Draws, s: State) -> State:
    ripple = {**s.ripple, "shaft": s.ripple["shaft"] + size}
    return attrs.evolve(s, ripple=ripple, up_extra=size * u["second"])


def _oily(machine: Machine, size: Floats, _u: Draws, s: State) -> State:
    return attrs.evolve(s, mu=_between((machine.oily_low, OILY_HIGH), size))


def _glazed(machine: Machine, size: Floats, u: Draws, s: State) -> State:
    worn = 2 * machine.lining_wear * size / machine.free_play
    return attrs.evolve(s, mu=_between(GLAZED, u["friction"]), play=s.play + worn)


def _weak_spring(machine: Machine, size: Floats, u: Draws, s: State) -> State:
    """Weak springs on all pawls, or on one alone: then the other still clicks and catches."""
    both = (u["chance"] < 0.6) | (machine.pawls == 1)
    fall = np.where(both, 1 - (1 - size) ** machine.pawls, 1.0)  # share of teeth caught by any
    weak = np.where(both, float(machine.pawls), 1.0)
    told = np.where(size > 0.75 + 0.2 * u["second"], s.pawls, s.pawls - weak)
    missed = np.floor(np.log(np.maximum(u["creep"], 1e-9)) / np.log(np.maximum(1 - fall, 1e-9)))
    return attrs.evolve(s, clicks=fall, pawls=told, teeth_missed=np.where(fall < 1, missed, 0.0))


def _stuck(machine: Machine, size: Floats, _u: Draws, s: State) -> State:
    all_stuck = (size > 0.9) | (machine.pawls == 1)
    heard = np.where(all_stuck, 0.0, s.pawls - 1)
    clicks = np.where(all_stuck, 0.0, 1.0)
    return attrs.evolve(s, pawls=heard, clicks=clicks, pawls_hold=np.where(all_stuck, 0.0, 1.0))


def _nut_tight(_machine: Machine, size: Floats, u: Draws, s: State) -> State:
    return attrs.evolve(s, play=size, clamp=1.05 + 0.8 * u["second"])


def _nut_loose(_machine: Machine, size: Floats, _u: Draws, s: State) -> State:
    return attrs.evolve(s, play=s.play * size)


def _limiter_low(machine: Machine, size: Floats, _u: Draws, s: State) -> State:
    low = machine.limiter.low if machine.limiter else np.inf
    return attrs.evolve(s, slip=low * size)


def _limiter_high(machine: Machine, size: Floats, _u: Draws, s: State) -> State:
    high = machine.limiter.high if machine.limiter else np.inf
    return attrs.evolve(s, slip=high * size)


def _wrong_ratio(machine: Machine, size: Floats, u: Draws, s: State) -> State:
    """Half of the cases another gear, sheave or reeving, half another chain."""
    others = wrong_ratios(machine)
    at = np.minimum((u["second"] * len(others)).astype(int), len(others) - 1)
    chain = u["chance"] < 0.5
    by_chain = 1 / (1 + np.where(u["phase"] < 0.5, size, -size))
    factor = np.where(chain, by_chain, np.asarray(others)[at])
    extra = np.where(chain, 4 * size, 0.0)
    return attrs.evolve(s, factor=factor, pocket_extra=extra)


_CHANGES = {
    "dry_gears": _dry_gears,
    "tight_bearing": _tight_bearing,
    "mistimed_layshaft": _mistimed,
    "chain_not_seating": _not_seating,
    "bent_shaft": _bent,
    "oily_discs": _oily,
    "glazed_discs": _glazed,
    "weak_pawl_spring": _weak_spring,
    "pawl_stuck": _stuck,
    "lock_nut_tight": _nut_tight,
    "lock_nut_loose": _nut_loose,
    "limiter_low": _limiter_low,
    "limiter_high": _limiter_high,
    "wrong_ratio": _wrong_ratio,
}


def _raising_torque(machine: Machine, load: float, efficiency: Floats) -> Floats:
    live = float(reeving.live_fall_force(load * STANDARD_GRAVITY, machine.falls, machine.idle))
    return live * machine.sheave / (2 * machine.ratio * efficiency)


def _observables(machine: Machine, loads: Loads, s: State, u: Draws) -> dict[str, Floats]:
    eta = np.maximum((1 - s.mesh_loss) ** 2 * (1 - s.rest_loss), 0.2)
    lock = np.asarray(
        load_brake.lock_ratio(
            s.mu, machine.face_radius, machine.thread_radius, machine.lead_angle,
            machine.thread_friction,
        )
    )  # fmt: skip
    torque = _raising_torque(machine, loads.load, eta * s.factor) * (1 + s.up_extra) + s.drag
    pull, expected = torque / machine.hand_radius, machine.pull_up(loads.load)
    light = _raising_torque(machine, loads.light, eta * s.factor) * (1 + s.up_extra) + s.drag
    slips = s.slip < loads.load / machine.rated
    held = (lock >= 1) & (s.pawls_hold > 0)
    creep = np.where(held, 0.05 * u["creep"], 0.8 + 2.3 * u["creep"])
    return {
        "pull_up": np.where(slips, pull * s.slip * machine.rated / loads.load, pull) / expected,
        "pull_down": _pull_down(machine, loads, s, eta, lock) / expected,
        "pull_light": light / machine.hand_radius / expected,
        "ripple_shaft": s.ripple["shaft"],
        "ripple_layshaft": s.ripple["layshaft"],
        "ripple_sheave": s.ripple["sheave"],
        "ripple_mesh": s.ripple["mesh"],
        "ripple_pocket": _pocket(machine, s, u),
        "creep": creep,
        "clicks": s.factor * s.clicks,
        "travel": s.factor,
        "free_play": s.play,
        "stop_drop": _drop(machine, s, u),
        "slip": s.slip,
        "held": held.astype(np.float64),
        "lifted": (~slips).astype(np.float64),
        "pawls": s.pawls,
    }


def _pull_down(machine: Machine, loads: Loads, s: State, eta: Floats, lock: Floats) -> Floats:
    """Never below 0: then the load pulls and the hand has nothing to do."""
    weight = loads.load * STANDARD_GRAVITY
    live = float(reeving.live_fall_force_lowering(weight, machine.falls, machine.idle))
    back = live * machine.sheave * eta / (2 * machine.ratio * s.factor)
    hand = np.asarray(load_brake.lowering_torque(back, lock, s.clamp)) + s.drag
    hand = np.where(s.pawls_hold > 0, hand, 0.0)  # without a pawl the brake does not drag
    return np.maximum(hand, 0.0) / machine.hand_radius


def _pocket(machine: Machine, s: State, u: Draws) -> Floats:
    """The polygon's own ripple and what a fault adds, in any phase."""
    own = pocket_ripple(machine.pockets, machine.pitch, machine.wire)
    turn = np.cos(2 * np.pi * u["phase"])
    both = own**2 + s.pocket_extra**2 + 2 * own * s.pocket_extra * turn
    return np.sqrt(np.maximum(both, 0.0))


def _drop(machine: Machine, s: State, u: Draws) -> Floats:
    closing = s.play * machine.free_play / machine.lead
    tooth = (u["drop"] + s.teeth_missed) / machine.ratchet_teeth
    return (closing + tooth) / (machine.turns_per_lift * s.factor)
