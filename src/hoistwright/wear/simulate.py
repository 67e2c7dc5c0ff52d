"""Simulated hoists whose true state is known: usage, wear, overloads, neglect, oil, readings.

Chain joints and linings wear by Archard's law under the hoist's own lifts; overloads stretch
chain and hook; oil lowers the friction of the brake until the next visit finds it.
"""

from __future__ import annotations

import attrs
import numpy as np
from numpy.typing import NDArray

from hoistwright.metrology.arrays import Floats
from hoistwright.physics.chain_wear import wear_elongation
from hoistwright.physics.load_brake import lock_ratio
from hoistwright.physics.wear import archard_volume, joint_sliding, wear_depth
from hoistwright.wear.simulated_shop import SimulatedHoist, SimulatedUse, SimulatedVisits

Bools = NDArray[np.bool_]
_PASSES = 4
"""A joint slides running on and running off, lifting and lowering."""


@attrs.frozen(eq=False)
class History:
    """Arrays (N visits, H hoists), true states as found and what was read (NaN: not read).

    `elongation` is the true one over the gauge length, of which `stretch` is permanent;
    `lining_loss` and `throat_rise` in m; `lock` the true lock ratio of the brake as found.
    `renewed_chain`, `renewed_lining`: fitted new at the end of the visit.
    """

    time: Floats
    lifts: Floats
    elongation: Floats
    stretch: Floats
    lining_loss: Floats
    throat_rise: Floats
    overloads: Floats
    dry: Bools
    oiled: Bools
    lock: Floats
    read_elongation: Floats
    read_lining: Floats
    read_throat: Floats
    elongation_u: float
    lining_u: float
    throat_u: float
    renewed_chain: Bools
    renewed_lining: Bools
    rate_per_lift: Floats
    """(H,) true elongation per lift of an oiled chain."""


class _Fleet:
    """The true state of all hoists while time passes."""

    def __init__(
        self, hoists: int, machine: SimulatedHoist, use: SimulatedUse, rng: np.random.Generator
    ) -> None:
        self.machine, self.use, self.rng, self.H = machine, use, rng, hoists
        self.lifts_a_year = use.lifts * _lognormal(rng, use.lifts_spread, hoists)
        weight = use.load_share_weight
        share = rng.beta(weight * use.load_share, weight * (1 - use.load_share), hoists)
        self.force = share * machine.rated_force
        self.brake_mu = use.brake_friction * _lognormal(rng, use.brake_friction_spread, hoists)
        self.lining_k = use.lining_wear_coefficient * _lognormal(
            rng, use.lining_wear_spread, hoists
        )
        self.dry = rng.random(hoists) < use.neglect / (use.neglect + use.care)
        self.oiled = np.zeros(hoists, bool)
        self.lifts, self.stretch, self.wear, self.loss, self.throat, self.overloads = np.zeros(
            (6, hoists)
        )
        self.chain_k = np.empty(hoists)
        self.new_chain(np.ones(hoists, bool))

    def new_chain(self, where: Bools) -> None:
        self.wear[where] = 0.0
        self.stretch[where] = 0.0
        spread = _lognormal(self.rng, self.use.chain_wear_spread, int(where.sum()))
        self.chain_k[where] = self.use.chain_wear_coefficient * spread

    def crown_per_lift(self) -> Floats:
        """Crown wear of an oiled joint per lift, m."""
        m = self.machine
        way = _PASSES * joint_sliding(m.wire, m.pockets)
        volume = archard_volume(self.chain_k, self.force, way, m.chain_hardness)
        return wear_depth(volume, m.joint_area)

    def pass_time(self, years: Floats, steps: int) -> None:
        """Years of use per hoist, in `steps` equal parts."""
        for _ in range(steps):
            self._step(years / steps)

    def _step(self, dt: Floats) -> None:
        use, rng, m = self.use, self.rng, self.machine
        lifts = rng.poisson(self.lifts_a_year * dt)
        self.lifts += lifts
        self.wear += lifts * self.crown_per_lift() * np.where(self.dry, use.dry_factor, 1.0)
        way = m.brake_slide_per_metre * m.lift_height * lifts
        clamp = self.force * m.face_radius / (m.thread_radius * 4)
        volume = archard_volume(self.lining_k, clamp, way, m.lining_hardness)
        self.loss += wear_depth(volume, m.lining_area)
        self._overloads(dt)
        change = np.where(self.dry, use.care, use.neglect) * dt
        self.dry = self.dry ^ (rng.random(self.H) < -np.expm1(-change))
        self.oiled |= rng.random(self.H) < -np.expm1(-use.oil_on_brake * dt)

    def _overloads(self, dt: Floats) -> None:
        use, rng = self.use, self.rng
        hit = rng.random(self.H) < -np.expm1(-use.overloads * dt)
        factor = use.overload_factor * _lognormal(rng, use.overload_spread, self.H)
        beyond = np.where(hit, np.maximum(factor - use.yield_factor, 0.0), 0.0)
        self.overloads += hit
        self.stretch += use.stretch_per_factor * beyond
        self.throat += use.throat_per_factor * beyond * self.machine.hook_throat

    def elongation(self) -> Floats:
        m = self.machine
        return wear_elongation(self.wear, m.pitch, m.gauge_links) + self.stretch

    def lock(self) -> Floats:
        m = self.machine
        mu = self.brake_mu * np.where(self.oiled, self.use.oiled_share, 1.0)
        return lock_ratio(mu, m.face_radius, m.thread_radius, m.thread_lead, m.thread_friction)


def simulate(
    hoists: int,
    rng: np.random.Generator,
    *,
    machine: SimulatedHoist | None = None,
    use: SimulatedUse | None = None,
    visits: SimulatedVisits | None = None,
    renew_elongation: float = np.inf,
    renew_lining: float = np.inf,
) -> History:
    """Simulate a fleet from new, visit after visit.

    Crown wear per lift w = K·F·4s/(3·H·A); ε = 2w(n−1)/(n·p) + stretch; lining likewise; each
    reading is the truth with a normal error.

    Args:
        hoists: how many.
        rng: numpy generator; the same seed gives the same fleet.
        machine: what they are.
        use: how they are used and cared for.
        visits: when they come and how they are measured.
        renew_elongation: reading from which a chain is renewed at the visit; infinity: never.
        renew_lining: loss read, m, from which linings are renewed.

    Returns:
        True states and readings at every visit.

    Raises:
        ValueError: fewer than one hoist or visit.

    References:
        Archard 1953; figures invented (`simulated_shop`).

    >>> found = simulate(3, np.random.default_rng(1))
    >>> found.elongation.shape, bool((np.diff(found.elongation, axis=0) > 0).all())
    ((8, 3), True)
    """
    machine, use = machine or SimulatedHoist(), use or SimulatedUse()
    plan = visits or SimulatedVisits()
    count = round(plan.years / plan.gap)
    if hoists < 1 or count < 1:
        raise ValueError(f"{hoists} hoists with {count} visits; expected at least one of each.")
    fleet = _Fleet(hoists, machine, use, rng)
    rate = wear_elongation(fleet.crown_per_lift(), machine.pitch, machine.gauge_links)
    rows = []
    time = np.zeros(hoists)
    for _ in range(count):
        gap = plan.gap * np.clip(rng.normal(1, plan.gap_spread, hoists), 0.3, 2.0)
        time = time + gap
        fleet.pass_time(gap, max(1, round(plan.gap * 6)))
        rows.append(_visit(fleet, time, plan, renew_elongation, renew_lining))
    columns = {key: np.array([row[key] for row in rows]) for key in rows[0]}
    return History(
        **columns,
        elongation_u=_elongation_u(machine, plan),
        lining_u=plan.lining_u,
        throat_u=plan.throat_u,
        rate_per_lift=rate,
    )


def _visit(
    fleet: _Fleet, time: Floats, plan: SimulatedVisits, chain_limit: float, lining_limit: float
) -> dict[str, NDArray[np.generic]]:
    """One visit: states as found, readings, renewals; the brake is cleaned."""
    found: dict[str, NDArray[np.generic]] = {
        "time": time,
        "lifts": fleet.lifts.copy(),
        "elongation": fleet.elongation(),
        "stretch": fleet.stretch.copy(),
        "lining_loss": fleet.loss.copy(),
        "throat_rise": fleet.throat.copy(),
        "overloads": fleet.overloads.copy(),
        "dry": fleet.dry.copy(),
        "oiled": fleet.oiled.copy(),
        "lock": fleet.lock(),
    }
    chain = _read(fleet.rng, fleet.elongation(), _elongation_u(fleet.machine, plan), plan)
    lining = _read(fleet.rng, fleet.loss, plan.lining_u, plan)
    found |= {
        "read_elongation": chain,
        "read_lining": lining,
        "read_throat": _read(fleet.rng, fleet.throat, plan.throat_u, plan),
        "renewed_chain": chain >= chain_limit,
        "renewed_lining": lining >= lining_limit,
    }
    fleet.new_chain(chain >= chain_limit)
    fleet.loss[lining >= lining_limit] = 0.0
    fleet.oiled[:] = False
    return found


def _elongation_u(machine: SimulatedHoist, plan: SimulatedVisits) -> float:
    return plan.gauge_u / (machine.gauge_links * machine.pitch)


def _read(rng: np.random.Generator, truth: Floats, u: float, plan: SimulatedVisits) -> Floats:
    error = rng.normal(0, u, truth.shape)
    gross = rng.random(truth.shape) < plan.wrong_readings
    error += gross * rng.choice([-1.0, 1.0], truth.shape) * rng.uniform(5, 15, truth.shape) * u
    return np.where(rng.random(truth.shape) < plan.missed, np.nan, truth + error)


def _lognormal(rng: np.random.Generator, spread: float, size: int) -> Floats:
    """Median 1, standard deviation of the logarithm `spread`."""
    return rng.lognormal(0.0, spread, size)
