"""How worn each demo hoist truly was at each visit, from the simulated shop."""

from __future__ import annotations

import datetime
import zlib
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

import attrs
import numpy as np

from hoistwright.demo.customers import demo_trade
from hoistwright.demo.fleet import MONTHS, DemoHoist
from hoistwright.demo.points import chain_points, demo_points
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped
from hoistwright.hoist.parts import Part
from hoistwright.metrology.arrays import Floats
from hoistwright.wear.simulate import History, simulate
from hoistwright.wear.simulated_shop import SimulatedHoist, SimulatedVisits

YEARS = {"normal": 11.0, "heavy": 7.0, "severe": 4.5}
"""How long the oldest hoists of a service class have been in use."""

RENEW_AT = 0.76
"""Share of the way to the limit at which the demo shop renews chain and linings."""

PARTS_RENEWED_AT = 0.5
"""The same for all other parts, which are cheap beside another visit."""

WEAR_PER_LIFT = 0.7e-5
"""Share of the way to its limit that an ordinary part goes per lift, in the median."""

DAYS_A_YEAR = 365.25


@attrs.frozen(kw_only=True)
class Worn:
    """A hoist's true state as found at a visit. Elongations are shares, lengths in m.

    `shares`: how far other parts are on the way to their limits. `renewed`: what is fitted new
    at the end of the visit because of wear.
    """

    day: datetime.date
    elongation: float
    stretch: float
    lining: float
    throat: float
    shares: Mapping[str, float]
    renewed: tuple[str, ...] = ()


@attrs.frozen(kw_only=True)
class Life:
    """A hoist with all its visits so far, the last one last."""

    hoist: DemoHoist
    made: datetime.date
    visits: tuple[Worn, ...]
    coming: Worn
    """As it will be at the visit after these."""


def lives(
    hoists: Sequence[DemoHoist], today: datetime.date, rng: np.random.Generator
) -> tuple[Life, ...]:
    """The visits of all hoists up to `today`, in the order of the hoists."""
    found: list[Life] = []
    for _, group in groupby(sorted(hoists, key=_kind), key=_kind):
        found += _of_kind(list(group), today, rng)
    return tuple(sorted(found, key=lambda life: life.hoist.number))


def _kind(hoist: DemoHoist) -> tuple[str, str, str]:
    return hoist.customer.trade, hoist.service, hoist.design


def _of_kind(
    hoists: Sequence[DemoHoist], today: datetime.date, rng: np.random.Generator
) -> Iterator[Life]:
    """Hoists of one design in one kind of use: one simulated fleet."""
    trade, service, key = _kind(hoists[0])
    design = shipped(key)
    gap = MONTHS[hoists[0].service] / 12
    past = simulate(
        len(hoists),
        rng,
        machine=simulated(design),
        use=demo_trade(trade).use,
        visits=SimulatedVisits(
            years=YEARS[service], gap=gap, missed=0.0, gauge_u=5e-5, lining_u=5e-6
        ),
        renew_elongation=RENEW_AT * elongation_limit(design),
        renew_lining=RENEW_AT * lining_allowed(design),
    )
    for column, hoist in enumerate(hoists):
        yield _life(hoist, past, column, design, today, rng)


def _life(
    hoist: DemoHoist,
    past: History,
    h: int,
    design: Design,
    today: datetime.date,
    rng: np.random.Generator,
) -> Life:
    count = len(past.time)
    last = int(rng.integers(1, count - 1))
    ago = rng.uniform(0.0, MONTHS[hoist.service] * 30.0 - 1.0)
    end = today - datetime.timedelta(days=float(ago))
    began = end - datetime.timedelta(days=float(past.time[last, h]) * DAYS_A_YEAR)
    shares, renewed = _parts(hoist, design, past.lifts[: last + 2, h])
    visits = tuple(
        Worn(
            day=working_day(began + datetime.timedelta(days=float(past.time[k, h]) * DAYS_A_YEAR)),
            elongation=float(past.elongation[k, h]),
            stretch=float(past.stretch[k, h]),
            lining=float(past.lining_loss[k, h]),
            throat=float(past.throat_rise[k, h]),
            shares=shares[k],
            renewed=(*_worn_out(past, k, h), *renewed[k]),
        )
        for k in range(last + 2)
    )
    return Life(hoist=hoist, made=began, visits=visits[:-1], coming=visits[-1])


def _worn_out(past: History, k: int, h: int) -> Iterator[str]:
    if past.renewed_chain[k, h]:
        yield "load_chain"
    if past.renewed_lining[k, h]:
        yield "friction_disc_outer"
        yield "friction_disc_inner"


def _parts(
    hoist: DemoHoist, design: Design, lifts: Floats
) -> tuple[list[dict[str, float]], list[list[str]]]:
    """Shares and renewals of the parts that wear by the lift, at each visit."""
    shares: list[dict[str, float]] = [{} for _ in lifts]
    renewed: list[list[str]] = [[] for _ in lifts]
    for part in _wearing(design):
        dice = np.random.default_rng([hoist.number, zlib.crc32(part.key.encode())])
        rate = WEAR_PER_LIFT * float(dice.lognormal(0.0, 0.35))
        new_at = 0.0
        for k, now in enumerate(lifts):
            shares[k][part.key] = rate * (float(now) - new_at)
            if shares[k][part.key] > PARTS_RENEWED_AT:
                new_at = float(now)
                renewed[k].append(part.key)
    return shares, renewed


def _wearing(design: Design) -> list[Part]:
    """Parts with something to measure whose wear the simulated fleet does not give itself."""
    measured = {p.part for p in demo_points(design.key) if p.measured}
    return [
        part
        for part in design.parts
        if part.key in measured and part.role not in ("load_chain", "friction_disc")
    ]


def simulated(design: Design) -> SimulatedHoist:
    """A shipped design as the simulation takes it; bearing areas go with the wire's square."""
    chain, brake = design.load_chain, design.load_brake
    wire, rated = chain.wire or 0.005, design.rating.rated_load or 500.0
    force = rated * 9.81 / (design.rating.falls or 1)
    return SimulatedHoist(
        rated_force=force,
        wire=wire,
        pitch=chain.pitch or 3 * wire,
        pockets=design.load_sheave.pockets or 4,
        gauge_links=chain.gauge_links or 11,
        joint_area=0.24 * wire**2,
        lining_thickness=brake.lining_new or 0.003,
        lining_area=5.1e-7 * force,
    )


def elongation_limit(design: Design) -> float:
    """The lengthening of a pitch from which a chain is to go, by the demo shop's bases.

    A rise is a share of the outside length, which is two wires longer than the pitches.
    """
    point = chain_points(design)[0]
    ruling = next(r for r in point.rulings if r.limit_si is not None)
    assert ruling.limit_si is not None
    assert point.baseline is not None
    if ruling.comparison == "elongation":
        return ruling.limit_si
    pitches = (point.links or 1) * (design.load_chain.pitch or 1.0)
    return ruling.limit_si * point.baseline.value / pitches


def lining_allowed(design: Design) -> float:
    """What the linings may lose, m."""
    brake = design.load_brake
    return (brake.lining_new or 0.0) - (brake.lining_minimum or 0.0)


def working_day(day: datetime.date) -> datetime.date:
    """The day itself, or the Monday after a weekend."""
    return day + datetime.timedelta(days=max(0, 7 - day.weekday()) if day.weekday() > 4 else 0)
