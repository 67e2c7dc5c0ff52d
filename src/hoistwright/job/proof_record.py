"""From the events of a proof to the record that the engines take."""

from __future__ import annotations

import datetime
import functools
from collections.abc import Iterable, Mapping
from functools import cached_property

import attrs

from hoistwright.faults import FaultsError
from hoistwright.job.events_prove import ProofLooked, ProofMeasured, PullRecorded
from hoistwright.job.proof_load import as_mass
from hoistwright.job.state import JobState, Standing
from hoistwright.job.to_entries import entered_on
from hoistwright.metrology import Gauge
from hoistwright.prove.pull_csv import read_pull_series
from hoistwright.prove.record import (
    Clicks,
    CoverTemperature,
    Direction,
    Hold,
    ProofLook,
    ProofRecord,
    Pull,
    PullSeries,
    Readings,
    Slip,
    Strokes,
    Travel,
)

HOLDS = ("hold", "hold_hand_load")
"""Steps at which the load is held for the time that is asked."""
COUNTED_AT = "pawls"
"""The step of clicks, hand path and strokes over a measured lift."""


@attrs.frozen(kw_only=True)
class Told:
    """What was entered of a proof since the hoist was rebuilt; earlier words do not count."""

    state: JobState
    gauges: Mapping[str, Gauge]
    since: int
    """Number of the last step of the rebuild; words of an entry before it are too early."""
    texts: Mapping[str, str] = attrs.field(factory=dict, eq=False)
    """CSV texts by the hash of their content."""

    @cached_property
    def measured(self) -> Mapping[tuple[str, str], ProofMeasured]:
        """Figures by step and what was read."""
        return {
            key: entry.body
            for key, entry in self.state.measured.items()
            if entry.last.seq > self.since and isinstance(entry.body, ProofMeasured)
        }

    @cached_property
    def looks(self) -> Mapping[str, Standing]:
        """Answers by step."""
        return {
            step: entry
            for step, entry in self.state.proof_looks.items()
            if entry.last.seq > self.since and isinstance(entry.body, ProofLooked)
        }

    @cached_property
    def early(self) -> frozenset[str]:
        """Steps that were answered before the rebuild was done."""
        return frozenset(self.state.proof_looks) - frozenset(self.looks)

    @property
    def day(self) -> datetime.date | None:
        """The day of the last word of the proof."""
        entries = [*self.looks.values(), *self.state.measured.values(), *self.state.pulls]
        return max((entered_on(e) for e in entries if e.last.seq > self.since), default=None)

    @property
    def ran(self) -> bool:
        """Whether somebody saw the load run or creep."""
        bodies = (entry.body for entry in self.looks.values())
        return any(isinstance(body, ProofLooked) and body.ran for body in bodies)

    @property
    def slips(self) -> bool:
        """Whether the brake was seen not to hold."""
        answers = (self.looks[step].body for step in HOLDS if step in self.looks)
        crept = any(isinstance(body, ProofLooked) and body.answer == "no" for body in answers)
        return self.ran or crept

    def readings(self, step: str, what: str) -> Readings | None:
        """The figures read at a step, with their gauge."""
        body = self.measured.get((step, what))
        if body is None:
            return None
        return Readings(readings=body.values, gauge=self.gauges.get(body.gauge))

    def figure(self, steps: Iterable[str], what: str) -> float | None:
        """The mean of the figures read at the first of the steps that has some."""
        for step in steps:
            found = self.readings(step, what)
            if found is not None:
                return found.mean
        return None


def record_of(told: Told, load: float, lift: float | None, day: datetime.date) -> ProofRecord:
    """The record of a proof.

    Args:
        told: what was entered.
        load: what hung on the hook at the load test, kg; for pulls that do not say it.
        lift: the designed lift, m, over which the load was lowered.
        day: the day of the proof.
    """
    return ProofRecord(
        day=day,
        pulls=tuple(_pulls(told, load)),
        series=tuple(_series(told)),
        hold=_hold(told, load),
        clicks=_clicks(told),
        travel=_travel(told),
        strokes=_strokes(told),
        cover=_cover(told, lift),
        slip=_slip(told),
        free_play=told.readings("play", "free play"),
        stop_drop=told.readings("lower", "stop drop"),
        looks=tuple(_looks(told)),
        remarks=tuple(_remarks(told)),
    )


def _pulls(told: Told, load: float) -> Iterable[Pull]:
    for (step, what), body in told.measured.items():
        hung = body.load if body.load else load
        if what not in ("pull up", "pull down") or not hung > 0:
            continue
        gauge = told.gauges.get(body.gauge)
        raising = what == "pull up"
        speeds = told.measured.get((step, "hand speed"))
        if raising and speeds and len(speeds.values) == len(body.values) > 1:
            for pull, speed in zip(body.values, speeds.values, strict=True):
                yield Pull(pull=Readings(readings=(pull,), gauge=gauge), load=hung, speed=speed)
            continue
        yield Pull(
            pull=Readings(readings=body.values, gauge=gauge),
            load=hung,
            direction="raising" if raising else "lowering",
        )


def _series(told: Told) -> Iterable[PullSeries]:
    for entry in told.state.pulls:
        body = entry.body
        if not isinstance(body, PullRecorded) or entry.last.seq <= told.since:
            continue
        text = told.texts.get(body.content)
        if text is None:
            continue
        try:
            yield _read_series(
                text,
                load=body.load,
                direction=body.direction,
                gauge=told.gauges.get(body.gauge),
                file=body.content,
            )
        except FaultsError:  # it was read once, when it was entered; a later reader may be stricter
            continue


@functools.lru_cache(maxsize=16)
def _read_series(
    text: str, *, load: float, direction: Direction, gauge: Gauge | None, file: str
) -> PullSeries:
    """Read once for all looks at a job."""
    return read_pull_series(text, load=load, direction=direction, gauge=gauge, file=file)


def _hold(told: Told, load: float) -> Hold | None:
    seconds = told.figure(HOLDS, "hold time")
    if seconds is None and not told.ran:
        return None
    creep = next((r for step in HOLDS if (r := told.readings(step, "creep"))), None)
    return Hold(seconds=seconds or 0.0, load=load, creep=creep, held=not told.ran)


def _clicks(told: Told) -> Clicks | None:
    count = told.figure([COUNTED_AT], "clicks")
    heard = told.figure([COUNTED_AT], "pawls heard")
    if count is None and heard is None:
        return None
    lift = told.readings(COUNTED_AT, "lift") if count is not None else None
    return Clicks(
        count=round(count or 0),
        lift=lift or Readings(readings=()),
        pawls_heard=None if heard is None else round(heard),
    )


def _travel(told: Told) -> Travel | None:
    hand, lift = told.readings(COUNTED_AT, "hand path"), told.readings(COUNTED_AT, "lift")
    return None if hand is None or lift is None else Travel(hand=hand, lift=lift)


def _strokes(told: Told) -> Strokes | None:
    count, lift = told.figure([COUNTED_AT], "strokes"), told.readings(COUNTED_AT, "lift")
    return None if count is None or lift is None else Strokes(count=round(count), lift=lift)


def _cover(told: Told, lift: float | None) -> CoverTemperature | None:
    before, after = (told.figure(["lower"], f"cover {when}") for when in ("before", "after"))
    if before is None or after is None:
        return None
    return CoverTemperature(before=before, after=after, lift=lift or 0.0)


def _slip(told: Told) -> Slip | None:
    found = told.readings("limiter", "slip load")
    if found is None:
        return None
    gauge = None if found.gauge is None else as_mass(found.gauge)
    return Slip(load=Readings(readings=found.readings, gauge=gauge))


def _looks(told: Told) -> Iterable[ProofLook]:
    for entry in told.looks.values():
        body = entry.body
        assert isinstance(body, ProofLooked)
        yield ProofLook(key=body.look, answer=body.answer, by=entry.last.by, remark=body.remark)


def _remarks(told: Told) -> Iterable[str]:
    looked = (entry.body for entry in told.looks.values())
    for body in (*looked, *told.measured.values()):
        remark = getattr(body, "remark", "")
        if remark:
            yield remark
