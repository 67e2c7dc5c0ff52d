"""What one visit of a hoist tells the fleet: readings as found and as left, and new parts."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator, Mapping, Sequence

import attrs

from hoistwright.examine.entries import Circumstances, Entries, Reading
from hoistwright.examine.points import Address
from hoistwright.examine.taken import take
from hoistwright.hoist.feature import measure
from hoistwright.job.events import PartChosen, ReadingEntered, StageFinished
from hoistwright.job.events_release import WITHOUT_REPAIR, ExitChosen
from hoistwright.job.job_sheet import Customer, HoistIdentity, ServiceClass
from hoistwright.job.state import LEFT, JobState
from hoistwright.job.to_entries import day_of
from hoistwright.metrology import Gauge, state_on


@attrs.frozen(kw_only=True)
class Read:
    """One figure that was read, SI, with its standard uncertainty."""

    part: str
    feature: str
    place: str
    value: float
    u: float
    gauge: str = ""
    links: int | None = None
    repeats: int = 1


@attrs.frozen(kw_only=True)
class NewPart:
    """A part fitted new at a visit, with its number, batch or certificate where it was noted."""

    part: str
    trace: str = ""


@attrs.frozen(kw_only=True)
class VisitFacts:
    """One visit. `hoist` is the key in the register; `seq` and `hash` say which state it was.

    `found`: as it came in; `left`: on parts fitted new at this visit. `examined`: the stage is
    finished, so that `found` is what stands; `fitted`: new parts are in.
    """

    job: str
    hoist: str
    seq: int = attrs.field(eq=False)
    hash: str = attrs.field(eq=False)
    day: datetime.date
    identity: HoistIdentity
    customer: Customer
    design: str
    bases: tuple[str, ...]
    service: ServiceClass
    stage: str
    examined: bool
    new: tuple[NewPart, ...] = ()
    found: tuple[Read, ...] = ()
    left: tuple[Read, ...] = ()
    decision: str = ""
    certificate: str = ""
    left_on: datetime.date | None = None
    next_due: datetime.date | None = None
    why_due: str = ""
    chosen: ExitChosen | None = None

    @property
    def gone(self) -> bool:
        """The hoist has left the shop."""
        return self.stage == LEFT or self.left_on is not None

    @property
    def in_use(self) -> bool:
        """It went back to work: neither condemned nor returned without a repair."""
        way = self.decision or (self.chosen.exit if self.chosen else "")
        return self.gone and way not in WITHOUT_REPAIR


def visit_facts(state: JobState, hoist: str, taking: Taking) -> VisitFacts | None:
    """What a job tells the fleet.

    A reading of a renewed part that was entered after the stage "renew" was finished is one of
    the new part; what stood before is as found.

    Args:
        state: of the job.
        hoist: its key in the register.
        taking: with the shop's gauges. Readings with a gauge that is not among them, or that
            was out of date on the day, are left out: their uncertainty is not known.

    Returns:
        The facts; None for a job in which nothing is booked in yet.

    References:
        decision of the project: a renewal resets wear, see `docs/wear.md`.
    """
    booked, day = state.booked, day_of(state)
    if booked is None or day is None:
        return None
    issued = state.certificate
    new = _new_parts(state)
    found, left = _readings(state, {item.part for item in new})
    return VisitFacts(
        job=state.job,
        hoist=hoist,
        seq=state.seq,
        hash=state.hash,
        day=day,
        identity=booked.hoist,
        customer=booked.customer,
        design=state.design,
        bases=state.bases,
        service=booked.service,
        stage=state.stage,
        examined="examine" in state.finished,
        new=new,
        found=tuple(taking.reads(found, day)),
        left=tuple(taking.reads(left, day)),
        decision=issued.decision if issued else "",
        certificate=issued.number if issued else "",
        left_on=issued.issued_on if issued else _left_on(state),
        next_due=issued.next_due if issued else None,
        why_due=issued.why_due if issued else "",
        chosen=state.exit,
    )


def _new_parts(state: JobState) -> tuple[NewPart, ...]:
    """Parts chosen to be renewed, once the hoist is together again."""
    if "rebuild" not in state.finished:
        return ()
    chosen = [entry.body for entry in state.choices.values()]
    return tuple(
        NewPart(part=body.part, trace=body.trace)
        for body in chosen
        if isinstance(body, PartChosen) and body.renew
    )


def _left_on(state: JobState) -> datetime.date | None:
    """The day of the last entry, where the hoist left without a certificate that stands."""
    if state.stage != LEFT:
        return None
    return max(state.touched.values()).date()


def _readings(
    state: JobState, new: set[str]
) -> tuple[Mapping[Address, ReadingEntered], Mapping[Address, ReadingEntered]]:
    """As found and as left, by address."""
    chosen = max((seq for seq in _finished(state, "renew")), default=state.seq + 1)
    found: dict[Address, ReadingEntered] = {}
    left: dict[Address, ReadingEntered] = {}
    for entry in state.entries.values():
        body = entry.body
        if isinstance(body, ReadingEntered):
            side = left if body.part in new and entry.event.seq > chosen else found
            side[body.part, body.feature, body.place] = body
    return found, left


def _finished(state: JobState, stage: str) -> Iterator[int]:
    for entry in state.entries.values():
        if isinstance(entry.body, StageFinished) and entry.body.stage == stage:
            yield entry.event.seq


class Taking:
    """Readings with their uncertainty. A gauge calibrated again since then serves as well.

    The budget of a single reading follows from gauge, feature and size alone: readings that
    agree to a hundredth share it, so that a whole record is taken in seconds.
    """

    def __init__(self, gauges: Mapping[str, Gauge]) -> None:
        self.gauges = gauges
        self._known: dict[tuple[str, str, str], float] = {}

    def reads(self, bodies: Mapping[Address, ReadingEntered], day: datetime.date) -> Iterator[Read]:
        """Those that can be used, for a visit of this day."""
        for body in bodies.values():
            gauge = self.gauges.get(body.gauge)
            if gauge is None or not all(
                state_on(gauge, day, reading=value).usable for value in body.values
            ):
                continue
            u = self._uncertainty(body, gauge, day)
            if 0 < u < math.inf:
                yield Read(
                    part=body.part,
                    feature=body.feature,
                    place=body.place,
                    value=sum(body.values) / len(body.values),
                    u=u,
                    gauge=body.gauge,
                    links=body.links,
                    repeats=len(body.values),
                )

    def _uncertainty(self, body: ReadingEntered, gauge: Gauge, day: datetime.date) -> float:
        if len(body.values) > 1:
            return _taken(body, gauge, day)
        near = f"{body.values[0]:.2g}"  # the same for all, whichever comes first
        key = (body.gauge, body.feature, near)
        if key not in self._known:
            self._known[key] = _taken(attrs.evolve(body, values=(float(near),)), gauge, day)
        return self._known[key]


def _taken(body: ReadingEntered, gauge: Gauge, day: datetime.date) -> float:
    """The standard uncertainty of a reading; NaN where it cannot be used."""
    try:
        feature = measure(body.feature)
    except KeyError:
        return math.nan
    wide = attrs.evolve(gauge, range_min=-math.inf, range_max=math.inf)
    entries = Entries(gauges=(wide,), circumstances=Circumstances(day=day))
    taken = take(_reading(body), feature, entries)
    return float(taken.budget.u) if taken.budget and not taken.missing else math.nan


def _reading(body: ReadingEntered) -> Reading:
    return Reading(
        part=body.part,
        feature=body.feature,
        place=body.place,
        values=body.values,
        unit=body.unit,
        gauge=body.gauge,
        links=body.links,
    )


def lasting(gauges: Sequence[Gauge]) -> dict[str, Gauge]:
    """Gauges by key as the fleet takes them: as if their last calibration had always held.

    A gauge calibrated again since a reading would else count as not yet calibrated then.

    References:
        decision of the project; a gauge found wrong afterwards is for a recall.
    """
    return {
        gauge.key: attrs.evolve(gauge, calibrated_on=datetime.date.min)
        for gauge in gauges
        if gauge.calibrated_on is not None
    }
