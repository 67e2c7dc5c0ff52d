"""Invented fleets in a store: hoists that come back and wear at rates of their own."""

from __future__ import annotations

import datetime
import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence

import attrs
import numpy as np

from hoistwright.basis.loading import shipped_basis
from hoistwright.demo.shop_files import demo_folder
from hoistwright.fleet.histories import Known
from hoistwright.fleet.visit_facts import Taking, VisitFacts, lasting, visit_facts
from hoistwright.hoist.library import shipped
from hoistwright.job.entry import Draft, seal
from hoistwright.job.events import (
    Body,
    BookedIn,
    ExaminedOn,
    PartChosen,
    ReadingEntered,
    StageFinished,
)
from hoistwright.job.events_release import CertificateIssued, ExitChosen
from hoistwright.job.fold import further
from hoistwright.job.job_sheet import Customer, HoistIdentity, ServiceClass
from hoistwright.job.shop_file import load_shop
from hoistwright.job.state import STAGES, JobState
from hoistwright.store.sql_store import SqlStore

CUSTOMERS = (
    Customer(name="Saltmarsh Boatyard (invented)", address="1 Creek Lane, Kittiwake Quay"),
    Customer(name="Lantern Theatre (invented)", address="Fly tower, 9 Gallery Row"),
    Customer(name="Greystone Quarry (invented)", address="Upper Bench, Flint Hill"),
    Customer(name="Windrush Turbine Crew (invented)", address="Tower 14, Skerry Ridge"),
)
MONTHS: Mapping[ServiceClass, int] = {"normal": 12, "heavy": 6, "severe": 3}
READ = 0.013
"""Scatter of chain readings as a share of the way: the standard uncertainty of the long caliper."""
NEW = 0.16
"""How far a new chain may be off as a share of the way: 0.4 % of its length, by the catalogue."""
RATES: Mapping[ServiceClass, float] = {"normal": 0.10, "heavy": 0.22, "severe": 0.45}
"""Share of the way to the limit that a chain goes in a year."""


@attrs.frozen(kw_only=True)
class Visit:
    """One visit to put into a store. `chain`: true elongation as a share of the limit."""

    job: str
    serial: str
    day: datetime.date
    chain: float
    new_chain: bool = False
    trace: str = ""
    service: ServiceClass = "normal"
    manufactured: str = ""
    customer: Customer = CUSTOMERS[0]
    gauge: str = "long-1"
    disc: float = 0.1
    throat: float = 0.1
    stop: str = ""
    """The stage at which it stands; empty: it has left."""
    exit: str = "released"
    due: datetime.date | None = None


def bodies(visit: Visit) -> Iterator[Body]:
    """The events of a visit, as the bench would enter them."""
    yield BookedIn(
        hoist=HoistIdentity(maker="Ardle", model="2000", serial=visit.serial, rated_load=2000.0,
                            manufactured=visit.manufactured),
        customer=visit.customer,
        design="ardle-2000",
        bases=("b30-hand-hoists", "workshop-practice"),
        service=visit.service,
        received_on=visit.day,
        found="runs and holds",
    )  # fmt: skip
    yield ExaminedOn(day=visit.day)
    for stage in STAGES:
        if stage == visit.stop:
            return
        if stage == "examine":
            yield from readings(visit)
        if stage == "renew" and visit.new_chain:
            yield PartChosen(part="load_chain", trace=visit.trace)
        if stage == "release":
            yield ExitChosen(exit=visit.exit)  # type: ignore[arg-type]
            yield CertificateIssued(
                number=f"C-{visit.job}", revision=1, content="0" * 64,
                decision=visit.exit, rated_load=2000.0,  # type: ignore[arg-type]
                issued_on=visit.day + datetime.timedelta(days=2), next_due=visit.due,
            )  # fmt: skip
        yield StageFinished(stage=stage)


def readings(visit: Visit) -> Iterator[ReadingEntered]:
    """A chain in three sections, two discs, a hook: as far as they have come."""
    for number in (1, 2, 3):
        yield ReadingEntered(
            part="load_chain", feature="load_chain.gauge_length", place=f"section {number}",
            values=(0.328 * (1 + 0.025 * visit.chain),), unit="mm", gauge=visit.gauge,
            links=13,
        )  # fmt: skip
    disc, hook = (0.004 - visit.disc * 0.001,), (0.072 * (1 + 0.05 * visit.throat),)
    for part in ("friction_disc_outer", "friction_disc_inner"):
        yield ReadingEntered(
            part=part, feature="friction_disc.thickness", values=disc, unit="mm", gauge="mic-1"
        )
    yield ReadingEntered(
        part="bottom_hook", feature="hook.throat", values=hook, unit="mm", gauge="cal-1"
    )


def enter(store: SqlStore, visit: Visit) -> None:
    """Put a visit into a store, all at once at noon of its day."""
    noon = datetime.datetime.combine(visit.day, datetime.time(12), tzinfo=datetime.UTC)
    drafts = [
        Draft(id=f"scene-{visit.job}-{number:03d}", by="odile", body=body)
        for number, body in enumerate(bodies(visit))
    ]
    store.append(visit.job, drafts, now=noon)


def made_fleet(
    hoists: int, today: datetime.date, *, years: float = 2.0, seed: int = 5
) -> Sequence[Visit]:
    """Visits of so many hoists over the years before a day, by their service class."""
    rng = np.random.default_rng(seed)
    count = itertools.count(1)
    out: list[Visit] = []
    for at in range(hoists):
        service: ServiceClass = ("normal", "normal", "heavy", "severe")[at % 4]
        gap = 30.4 * MONTHS[service]
        day = today - datetime.timedelta(days=float(years * 365 * rng.uniform(0.85, 1.0)))
        age, rate = rng.uniform(0.5, 4.0), RATES[service] * rng.lognormal(0.0, 0.35)
        chain, made = (
            rate * age + rng.uniform(-NEW, NEW),
            day - datetime.timedelta(days=float(age * 365)),
        )
        while day < today:
            read = chain + rng.normal(0, READ)
            new = bool(read > 0.97)
            after = day + datetime.timedelta(days=float(gap * rng.normal(1.0, 0.08)))
            due = day + datetime.timedelta(days=int(gap))
            out.append(Visit(
                job=f"F-{next(count):05d}", serial=f"FL-{at + 1:04d}", day=day, chain=float(read),
                new_chain=new, trace=f"heat {day.year}-{at % 5}" if new else "", service=service,
                manufactured=str(made.year), customer=CUSTOMERS[at % len(CUSTOMERS)], due=due,
                disc=float(rng.normal(0.15, 0.01)), throat=float(rng.normal(0.1, 0.02)),
            ))  # fmt: skip
            step = (after - day).days / 365
            chain = (rng.uniform(-NEW, NEW) if new else chain) + rate * step + rng.normal(0, 0.01)
            day = after
    return out


def fill(store: SqlStore, hoists: int, today: datetime.date, **more: float) -> Sequence[Visit]:
    visits = made_fleet(hoists, today, **more)  # type: ignore[arg-type]
    for visit in sorted(visits, key=lambda v: v.day):
        enter(store, visit)
    return visits


def state_of(visit: Visit) -> JobState:
    """The state of a visit's job, without a store."""
    noon = datetime.datetime.combine(visit.day, datetime.time(12), tzinfo=datetime.UTC)
    state = JobState(job=visit.job)
    for number, body in enumerate(bodies(visit)):
        draft = Draft(id=f"scene-{visit.job}-{number:03d}", by="odile", body=body)
        event = seal(draft, job=visit.job, seq=state.seq + 1, at=noon, before=state.hash)
        state = further(state, [event])
    return state


def facts_of(visits: Iterable[Visit]) -> tuple[VisitFacts, ...]:
    """What visits tell the fleet, with the demo shop's gauges."""
    taking = Taking(lasting(load_shop(demo_folder() / "shop.toml").all_gauges()))
    found = (visit_facts(state_of(v), f"ardle/{v.serial}", taking) for v in visits)
    return tuple(facts for facts in found if facts is not None)


def known_on(today: datetime.date) -> Known:
    """The scene's design and bases, with the limits of a day."""
    bases = {key: shipped_basis(key) for key in ("b30-hand-hoists", "workshop-practice")}
    return Known(designs={"ardle-2000": shipped("ardle-2000")}, bases=bases, today=today)
