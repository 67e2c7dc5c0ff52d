"""A gauge found out of calibration afterwards: which verdicts leaned on it, and which change."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator, Sequence

import attrs

from hoistwright.basis.model import Basis
from hoistwright.basis.rulings import rulings
from hoistwright.examine.entries import Entries, Reading
from hoistwright.examine.evaluate import verdicts
from hoistwright.examine.points import points
from hoistwright.examine.rules import decision_rules
from hoistwright.examine.verdict import Verdict
from hoistwright.fleet.recall import Doubted
from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import measure
from hoistwright.job.shop import Shop
from hoistwright.job.state import JobState
from hoistwright.job.to_entries import entries_of
from hoistwright.metrology import Gauge


@attrs.frozen(kw_only=True, eq=False)
class Leaned:
    """A verdict that leaned on the gauge, as it was and as it is with the error known."""

    before: Verdict
    after: Verdict

    @property
    def changes(self) -> bool:
        return self.before.outcome is not self.after.outcome

    @property
    def worse(self) -> bool:
        """What was fit is no longer so: the hoist may be in danger."""
        return self.after.outcome > self.before.outcome


def examined_again(
    state: JobState, design: Design, bases: Sequence[Basis], shop: Shop, doubted: Doubted
) -> tuple[Leaned, ...]:
    """The verdicts of a job that leaned on a gauge, judged again as its true error asks.

    x' = x − e; the gauge's calibration uncertainty is the larger of the one stated and the one
    found. Whether the gauge was in date by its label makes no odds here.

    Args:
        state: of the job.
        design: its design.
        bases: its bases; limits of the day of the examination.
        shop: gauges as they are kept.
        doubted: the gauge with its error.

    Returns:
        One pair for each verdict, what became worse first; empty where the gauge was not used.

    Raises:
        FaultsError: a maker's limit of the design that cannot be read.

    References:
        examined as `examine.result.examine`; correction of a known error: GUM 3.2.3.
    """
    entries = entries_of(state, design, shop)
    touched = {(r.part, r.feature) for r in entries.readings if r.gauge == doubted.gauge}
    if not touched:
        return ()
    day = entries.circumstances.day
    wanted = [
        p for p in points(design, rulings(design, bases, day)) if (p.part, p.feature) in touched
    ]
    rules = decision_rules(bases)
    kept = tuple(r for r in entries.readings if (r.part, r.feature) in touched)
    own = attrs.evolve(entries, readings=kept, looks=(), gauges=_in_date(entries.gauges))
    before = verdicts(design, wanted, own, rules)
    after = verdicts(design, wanted, corrected(own, doubted), rules)
    pairs = [
        Leaned(before=old, after=new)
        for old, new in zip(before, after, strict=True)
        if _leans(old, kept, doubted.gauge)
    ]
    return tuple(sorted(pairs, key=lambda pair: (not pair.worse, not pair.changes)))


def corrected(entries: Entries, doubted: Doubted) -> Entries:
    """The same entries with the gauge's error taken off and its uncertainty as it was found."""
    return attrs.evolve(
        entries,
        readings=tuple(_corrected(reading, doubted) for reading in entries.readings),
        gauges=tuple(_as_found(gauge, doubted) for gauge in entries.gauges),
    )


def _corrected(reading: Reading, doubted: Doubted) -> Reading:
    if reading.gauge != doubted.gauge:
        return reading
    return attrs.evolve(reading, values=tuple(v - doubted.error for v in reading.values))


def _as_found(gauge: Gauge, doubted: Doubted) -> Gauge:
    if gauge.key != doubted.gauge or doubted.u is None:
        return gauge
    expanded = max(gauge.calibration_uncertainty, gauge.coverage_factor * doubted.u)
    return attrs.evolve(gauge, calibration_uncertainty=expanded)


def _in_date(gauges: Sequence[Gauge]) -> tuple[Gauge, ...]:
    """The gauges as if their last calibration had always held and held still."""
    return tuple(
        attrs.evolve(gauge, calibrated_on=datetime.date.min, due_on=datetime.date.max)
        if gauge.calibrated_on is not None
        else gauge
        for gauge in gauges
    )


def _leans(verdict: Verdict, readings: Sequence[Reading], gauge: str) -> bool:
    """A verdict over a part and feature of which some reading was taken with the gauge."""
    return (
        verdict.measured
        and verdict.ruling is not None
        and any(
            (r.part, r.feature) == (verdict.part, verdict.feature) and r.gauge == gauge
            for r in _of_place(readings, verdict)
        )
    )


def _of_place(readings: Sequence[Reading], verdict: Verdict) -> Iterator[Reading]:
    """The readings a verdict may rest on: of its place, of any where it is of all, as new."""
    unworn = measure(verdict.feature).reference_place
    for reading in readings:
        here = reading.place == verdict.place or reading.place.startswith(f"{verdict.place} ")
        if not verdict.place or here or (unworn and reading.place.endswith(unworn)):
            yield reading


def chance_after(pair: Leaned) -> float:
    """The probability that the part is beyond its limit, with the error known."""
    return pair.after.judgement.probability if pair.after.judgement else math.nan
