"""The insides of a simulated hoist: true friction, play and damage behind what is recorded."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import attrs
import numpy as np
from numpy.typing import NDArray

from hoistwright.prove.machine import Machine
from hoistwright.prove.wrong_parts import wrong_ratios

Change = dict[str, Any]


@attrs.frozen(eq=False, kw_only=True)
class Insides:
    """What nobody sees. Lengths in m, torque in N m, shares as plain numbers."""

    tooth_friction: float
    rest: float
    drag: float
    extra: float
    face_friction: float
    oily: bool
    jam: float
    play: float
    pawls_fall: NDArray[np.float64]
    """Chance of each pawl to fall into a tooth in time."""
    falls: int
    ratio: float
    chain_per_turn: float
    slip: float
    runout: tuple[float, float, float]
    layshaft: float
    bend: float
    tooth: float
    climb: float
    bad_pockets: NDArray[np.float64]


def insides(machine: Machine, fault: str, severity: float, rng: np.random.Generator) -> Insides:
    """A hoist as it came out of the works, with one fault put in.

    Args:
        machine: the hoist as designed.
        fault: key of the fault, or "none".
        severity: 0 to 1.
        rng: chance.

    Returns:
        The insides.

    Raises:
        ValueError: no such fault, or one this hoist cannot have.

    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.prove.machine import machine_of
    >>> machine = machine_of(shipped("ardle-500"))
    >>> insides(machine, "oily_discs", 1.0, np.random.default_rng(1)).face_friction < 0.1
    True

    References:
        friction by handbook tables (`hoistwright.physics.friction`); the rest invented.
    """
    sound = _sound(machine, rng)
    if fault == "none":
        return sound
    if fault not in _FAULTS:
        raise ValueError(f"fault: given {fault!r}; expected none or one of {', '.join(_FAULTS)}.")
    if fault.startswith("limiter") and machine.limiter is None:
        raise ValueError(f"fault: given {fault!r}; this hoist has no overload limiter.")
    return attrs.evolve(sound, **_FAULTS[fault](machine, sound, severity, rng))


def _sound(machine: Machine, rng: np.random.Generator) -> Insides:
    limiter = machine.limiter
    runout = rng.uniform(0.004, 0.014, 3)
    return Insides(
        tooth_friction=rng.uniform(0.07, 0.13),
        rest=1 - (1 - machine.rest) * rng.uniform(0.75, 1.35),
        drag=rng.uniform(0.0, 0.025) * _rated_torque(machine),
        extra=0.0,
        face_friction=rng.uniform(*machine.dry),
        oily=False,
        jam=1.0,
        play=machine.free_play * rng.uniform(0.88, 1.12),
        pawls_fall=np.ones(machine.pawls),
        falls=machine.falls,
        ratio=machine.ratio,
        chain_per_turn=2 * machine.pockets * machine.pitch,
        slip=rng.uniform(limiter.low, limiter.high) if limiter else np.inf,
        runout=(runout[0], runout[1], runout[2]),
        layshaft=runout[1],
        bend=runout[2],
        tooth=rng.uniform(0.001, 0.006),
        climb=0.0,
        bad_pockets=np.ones(machine.pockets),
    )


def _rated_torque(machine: Machine) -> float:
    return machine.pull_up(machine.rated) * machine.hand_radius


def _dry_gears(_m: Machine, s: Insides, severity: float, rng: np.random.Generator) -> Change:
    return {
        "tooth_friction": 0.28 + 0.35 * severity,
        "tooth": s.tooth + 0.01 + 0.03 * severity * rng.random(),
    }


def _tight_bearing(m: Machine, s: Insides, severity: float, rng: np.random.Generator) -> Change:
    drag = (0.09 + 0.36 * severity) * rng.uniform(0.9, 1.1)
    return {"drag": s.drag + drag * _rated_torque(m), "bend": s.bend + 0.01 * rng.random()}


def _mistimed(_m: Machine, s: Insides, severity: float, rng: np.random.Generator) -> Change:
    size = 0.045 + 0.1 * severity
    return {"layshaft": s.layshaft + size, "extra": size * rng.uniform(0.2, 0.9)}


def _not_seating(m: Machine, _s: Insides, severity: float, rng: np.random.Generator) -> Change:
    some = np.ones(m.pockets)
    if rng.random() < 0.2:
        some[rng.integers(m.pockets)] = 0.3
    size = 0.2 + 0.5 * severity
    return {"climb": size, "bad_pockets": some, "extra": 0.15 * size * rng.random()}


def _bent(_m: Machine, s: Insides, severity: float, rng: np.random.Generator) -> Change:
    size = 0.06 + 0.25 * severity
    return {"bend": s.bend + size, "extra": size * rng.uniform(0.1, 0.8)}


def _oily(_m: Machine, _s: Insides, severity: float, rng: np.random.Generator) -> Change:
    return {"face_friction": 0.18 - 0.12 * severity + rng.uniform(-0.01, 0.01), "oily": True}


def _glazed(m: Machine, s: Insides, severity: float, rng: np.random.Generator) -> Change:
    lost = 2 * m.lining_wear * (0.5 + 0.8 * severity)
    return {"face_friction": rng.uniform(0.17, 0.28), "play": s.play + lost}


def _weak_spring(m: Machine, _s: Insides, severity: float, rng: np.random.Generator) -> Change:
    fall = np.full(m.pawls, 0.9 - 0.45 * severity)
    if m.pawls > 1 and rng.random() < 0.4:
        fall[0] = 1.0
    return {"pawls_fall": fall}


def _stuck(m: Machine, _s: Insides, severity: float, _rng: np.random.Generator) -> Change:
    fall = np.ones(m.pawls)
    fall[: m.pawls if severity > 0.9 else 1] = 0.0
    return {"pawls_fall": fall}


def _nut_tight(m: Machine, _s: Insides, severity: float, rng: np.random.Generator) -> Change:
    return {"play": m.free_play * 0.3 * (1 - severity), "jam": 1.1 + 0.6 * rng.random()}


def _nut_loose(m: Machine, _s: Insides, severity: float, _rng: np.random.Generator) -> Change:
    return {"play": m.free_play * (2.0 + 1.8 * severity)}


def _limiter_low(m: Machine, _s: Insides, severity: float, _rng: np.random.Generator) -> Change:
    low = m.limiter.low if m.limiter else np.inf
    return {"slip": low * (0.93 - 0.3 * severity)}


def _limiter_high(m: Machine, _s: Insides, severity: float, _rng: np.random.Generator) -> Change:
    high = m.limiter.high if m.limiter else np.inf
    return {"slip": high * (1.08 + 0.45 * severity)}


def _wrong(m: Machine, s: Insides, severity: float, rng: np.random.Generator) -> Change:
    if rng.random() < 0.5:
        off = (0.025 + 0.05 * severity) * rng.choice((-1, 1))
        return {"chain_per_turn": s.chain_per_turn * (1 + off), "climb": 5 * abs(off)}
    return {"ratio": m.ratio * float(rng.choice(wrong_ratios(m)))}


_FAULTS: dict[str, Callable[[Machine, Insides, float, np.random.Generator], Change]] = {
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
    "wrong_ratio": _wrong,
}
