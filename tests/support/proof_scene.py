"""A job at the test stand: rebuilt, and proved with the figures of a simulated hoist."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

import numpy as np

from hoistwright.basis.loading import shipped_basis
from hoistwright.demo.shop_files import demo_folder
from hoistwright.hoist.library import shipped
from hoistwright.job.entry import Draft, seal
from hoistwright.job.events import Body, BookedIn, PartChosen, StepTicked
from hoistwright.job.events_prove import (
    Hung,
    Measured,
    ProofLooked,
    ProofMeasured,
    PullRecorded,
    TestLoadChosen,
)
from hoistwright.job.fold import further
from hoistwright.job.job_sheet import Customer, HoistIdentity
from hoistwright.job.shop_file import load_shop
from hoistwright.job.stages import Facts, Missing, missing_of
from hoistwright.job.state import JobState
from hoistwright.job.to_proof import Proof, proof_of
from hoistwright.prove.machine import Machine, machine_of
from hoistwright.prove.record import ProofRecord
from hoistwright.prove.sequence import ProofStep
from hoistwright.prove.simulate import simulate

AT = datetime.datetime(2026, 11, 25, 9, 0, tzinfo=datetime.UTC)
DAY = AT.date()
DUE = datetime.date(2028, 6, 30)
WEIGHTS = TestLoadChosen(
    by="weights",
    hung=(
        Hung(weight="w500", count=4, mass=500.0, uncertainty=0.25, due_on=DUE),
        Hung(weight="w250", count=1, mass=250.0, uncertainty=0.13, due_on=DUE),
    ),
)
LOAD = 2250.0


class ProofScene:
    """A job that goes on by one person saying one thing after another."""

    def __init__(
        self,
        *,
        design: str = "ardle-2000",
        bases: tuple[str, ...] = ("b30-hand-hoists", "workshop-practice"),
        renew: tuple[str, ...] = ("pawl",),
        rebuilt: bool = True,
    ) -> None:
        self.shop = load_shop(demo_folder() / "shop.toml")
        self.design = shipped(design)
        self.bases = tuple(shipped_basis(key) for key in bases)
        self.state = JobState(job="KQ-1")
        hoist = HoistIdentity(maker="Ardle", serial="S-1", rated_load=self.design.rating.rated_load)
        self.say(
            BookedIn(hoist=hoist, customer=Customer(name="a boatyard"), design=design, bases=bases)
        )
        self.say(*(PartChosen(part=part) for part in renew))
        if rebuilt:
            self.rebuild()

    def rebuild(self) -> None:
        plan = self.facts.rebuild
        assert plan is not None
        self.say(*(StepTicked(way="rebuild", step=step.key) for step in plan.steps))

    @property
    def facts(self) -> Facts:
        return Facts(state=self.state, design=self.design, bases=self.bases, shop=self.shop)

    @property
    def proof(self) -> Proof:
        found = self.facts.proof
        assert found is not None
        return found

    @property
    def machine(self) -> Machine:
        return machine_of(self.design)

    def say(self, *bodies: Body, by: str = "odile", at: datetime.datetime = AT) -> None:
        for body in bodies:
            event = seal(
                Draft(body=body, by=by),
                job="KQ-1",
                seq=self.state.seq + 1,
                at=at,
                before=self.state.hash,
            )
            self.state = further(self.state, [event])

    def lacks(self) -> tuple[Missing, ...]:
        return missing_of("prove", self.facts)

    def prove(self, fault: str = "none", severity: float = 0.0) -> None:
        """Everything that a technician enters, as the simulated hoist gives it."""
        if self.proof.permitted is not None:
            self.say(WEIGHTS)
        self.say(*proof_bodies(self.proof, fault, severity))

    def with_series(self, text: str) -> Proof:
        """The proof with a pull over time whose text is known by the name "text"."""
        self.say(
            PullRecorded(step="full_lift", content="text", direction="raising", load=LOAD,
                         gauge="cell-2")
        )  # fmt: skip
        return proof_of(self.state, self.design, self.bases, self.shop, texts={"text": text})


def proof_bodies(proof: Proof, fault: str = "none", severity: float = 0.0) -> list[Body]:
    """The entries of a proof, with the figures of a simulated hoist that has one fault."""
    assert proof.machine is not None
    load = proof.planned or LOAD
    record = simulate(proof.machine, fault, severity, np.random.default_rng(7), load)
    bodies: list[Body] = []
    for step in proof.steps:
        bodies += _figures(step, record, load)
        runs = step.look == "no_creep" and record.hold is not None and not record.hold.held
        bodies.append(look(step, "no" if runs else "yes", ran=runs))
    return bodies


def look(step: ProofStep, answer: str = "yes", *, ran: bool = False) -> ProofLooked:
    return ProofLooked(step=step.key, look=step.look, answer=answer, ran=ran,  # type: ignore[arg-type]
                       text=step.question)  # fmt: skip


def figure(
    step: str, what: Measured, *values: float, unit: str = "", gauge: str = "",
    load: float | None = None,
) -> ProofMeasured:  # fmt: skip
    return ProofMeasured(step=step, what=what, values=values, unit=unit, gauge=gauge, load=load)


def _figures(step: ProofStep, record: ProofRecord, load: float) -> Iterator[ProofMeasured]:
    assert record.clicks is not None
    assert record.travel is not None
    assert record.hold is not None
    key = step.key
    if key == "light":
        pull = record.pulls[0]
        yield figure(key, "pull up", *pull.pull.readings, unit="N", gauge="balance-1",
                     load=pull.load)  # fmt: skip
    if key == "play" and record.free_play is not None:
        yield figure(key, "free play", *record.free_play.readings, unit="mm", gauge="dial-1")
    if key == "pawls":
        yield figure(key, "lift", *record.clicks.lift.readings, unit="m", gauge="tape-1")
        yield figure(key, "clicks", record.clicks.count)
        yield figure(key, "pawls heard", record.clicks.pawls_heard or 0)
        yield figure(key, "hand path", *record.travel.hand.readings, unit="m", gauge="tape-1")
    if key == "full_lift" and record.series:
        yield figure(key, "pull up", float(record.series[0].pull.mean()), unit="N", gauge="cell-2",
                     load=load)  # fmt: skip
    if key == "lower" and record.stop_drop is not None:
        yield figure(key, "pull down", *record.pulls[1].pull.readings, unit="N", gauge="balance-1")
        yield figure(key, "stop drop", *record.stop_drop.readings, unit="mm", gauge="depth-1")
    if key in ("hold", "hold_hand_load"):
        yield figure(key, "hold time", record.hold.seconds, unit="s")
        if record.hold.creep is not None:
            yield figure(key, "creep", *record.hold.creep.readings, unit="mm", gauge="dial-1")


def series_text(machine: Machine, load: float = LOAD) -> str:
    """A pull over time of a sound hoist, as a load cell's file."""
    series = simulate(machine, "none", 0.0, np.random.default_rng(7), load).series[0]
    assert series.travel is not None
    rows = zip(series.time, series.pull, series.travel, strict=True)
    told = "\n".join(f"{t:.3f},{p:.2f},{x:.5f}" for t, p, x in rows)
    return f"time [s],pull [N],travel [m]\n{told}\n"
