"""From a job's state to its proof: which tests, which load, what was found, what may be wrong.

Pure, as the engines are. Everything is worked out once for one state; `Facts.proof` keeps it.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

import attrs

from hoistwright.basis.model import Basis
from hoistwright.examine.rules import decision_rules
from hoistwright.hoist.design import Design
from hoistwright.job.events import PartChosen
from hoistwright.job.events_prove import TestLoadChosen, TestSettled
from hoistwright.job.proof_load import applied_by_weights, applied_on_bed, permitted_load
from hoistwright.job.proof_record import Told, record_of
from hoistwright.job.shop import Shop
from hoistwright.job.state import JobState
from hoistwright.job.to_entries import day_of, entered_on
from hoistwright.metrology import DecisionRule
from hoistwright.prove.bed import Applied
from hoistwright.prove.diagnose import Diagnosis, diagnose
from hoistwright.prove.evaluate import evaluate
from hoistwright.prove.finding import ProofResult
from hoistwright.prove.machine import Machine, machine_of
from hoistwright.prove.observables import Observables
from hoistwright.prove.observe import observables
from hoistwright.prove.record import ProofRecord
from hoistwright.prove.sequence import ProofStep, proof_sequence
from hoistwright.prove.settled import Settled, Stated
from hoistwright.prove.tests_needed import Done, NeededTests, needed_tests
from hoistwright.prove.weight_values import Permitted

BED_STEP = "lift_a_little"
"""The step at which the load of a test bed is read."""


@attrs.frozen(kw_only=True, eq=False)
class Proof:
    """One job's proof. `new_parts` are the parts that the rebuild fits new."""

    state: JobState
    design: Design
    bases: tuple[Basis, ...]
    shop: Shop
    new_parts: tuple[str, ...] = ()
    texts: Mapping[str, str] = attrs.field(factory=dict, eq=False)
    """CSV texts of pulls over time, by the hash of their content."""

    # which tests, which load

    @cached_property
    def done(self) -> tuple[Done, ...]:
        """The work that was done to the parts, new one-use parts among it."""
        keys = dict.fromkeys((*_renewed(self.state), *self.new_parts))
        parts = {part.key: part for part in self.design.parts}
        return tuple(
            Done(part=key, role=parts[key].role, name=parts[key].name)
            for key in keys
            if key in parts
        )

    @cached_property
    def needed(self) -> NeededTests:
        """The tests, with what competent persons of the shop said of them."""
        if not self.bases:
            return NeededTests(
                extent="not established", why="no basis is chosen", band=None, hold=0.0, asked=()
            )
        return needed_tests(
            self.done,
            [basis.head for basis in self.bases],
            self.design.identity.kind,
            rated_load=self.rated,
            settled=dict(_settled(self.state, self.shop)),
            stated=_stated(self.state, self.shop),
        )

    @property
    def rated(self) -> float | None:
        """What it is to be rated for, kg: as designed, or lower where it is to leave so."""
        leaves = self.state.exit
        if leaves is not None and leaves.lowered_to is not None:
            return leaves.lowered_to
        rated = self.design.rating.rated_load
        return None if rated is None else float(rated)

    @cached_property
    def permitted(self) -> Permitted | None:
        """The load that serves, kg; None where no load test is needed."""
        return permitted_load(self.rated, self.needed)

    @cached_property
    def applied(self) -> Applied | None:
        """The load that was really on the hook; None where none is chosen or needed."""
        chosen = self.state.by_topic.get((TestLoadChosen.kind,))
        body = chosen.body if chosen else None
        if self.permitted is None or chosen is None or not isinstance(body, TestLoadChosen):
            return None
        low, high = self.permitted.low, self.permitted.high
        if body.by == "weights":
            day = self.told.day or entered_on(chosen)
            return applied_by_weights(body, self.shop, day, low, high)
        read = self.told.measured.get((BED_STEP, "bed reading"))
        gauge = self.told.gauges.get(read.gauge if read else body.gauge)
        values = read.values if read else ()
        return applied_on_bed(values, gauge, self.day, low, high)

    @property
    def planned(self) -> float | None:
        """The load that is meant to hang, kg: as weighed, or as the bed is to show."""
        if self.applied is not None and math.isfinite(self.applied.load):
            return self.applied.load
        chosen = self.state.test_load
        return chosen.bed_reading if chosen is not None else None

    @cached_property
    def steps(self) -> tuple[ProofStep, ...]:
        return proof_sequence(self.design, self.needed, load=self.planned)

    # what was recorded

    @cached_property
    def told(self) -> Told:
        gauges = {gauge.key: gauge for gauge in self.shop.all_gauges()}
        return Told(state=self.state, gauges=gauges, since=rebuilt_at(self.state), texts=self.texts)

    @property
    def day(self) -> datetime.date:
        """The day of the proof; before it the day of the examination."""
        return self.told.day or day_of(self.state) or datetime.date.min

    @cached_property
    def record(self) -> ProofRecord:
        lift = self.design.rating.lift
        return record_of(self.told, self.load, None if lift is None else float(lift), self.day)

    @property
    def load(self) -> float:
        """What hangs at the load test, kg; 0 where nothing is chosen."""
        return self.planned or 0.0

    # what was found

    @cached_property
    def _machine(self) -> tuple[Machine | None, str]:
        try:
            return machine_of(self.design), ""
        except ValueError as error:
            return None, str(error)

    @property
    def machine(self) -> Machine | None:
        return self._machine[0]

    @cached_property
    def rule(self) -> DecisionRule:
        """The strictest rule of the bases."""
        return decision_rules(self.bases)[""]

    @cached_property
    def result(self) -> ProofResult:
        machine, why = self._machine
        return evaluate(
            self.record,
            self.needed,
            steps=self.steps,
            machine=machine,
            why_no_machine=why,
            applied=self.applied,
            rule=self.rule,
        )

    @cached_property
    def seen(self) -> Observables | None:
        """What the diagnosis leans on. A brake that was seen not to hold did not hold."""
        load = self.load or max((pull.load for pull in self.record.pulls), default=0.0)
        load = load or (self.rated or 0.0)
        if self.machine is None or not load > 0:
            return None
        seen = observables(self.record, self.machine, load)
        return attrs.evolve(seen, held=False) if self.told.slips else seen

    @cached_property
    def diagnosis(self) -> Diagnosis | None:
        """What may be wrong, the likeliest first; None before anything was recorded."""
        if self.machine is None or self.seen is None:
            return None
        try:
            return diagnose(self.machine, self.seen)
        except ValueError:  # nothing was recorded that it could lean on
            return None


def proof_of(
    state: JobState,
    design: Design,
    bases: Sequence[Basis],
    shop: Shop,
    *,
    new_parts: Iterable[str] = (),
    texts: Mapping[str, str] | None = None,
) -> Proof:
    """The proof of a job as it now stands.

    Args:
        state: the job.
        design: its design.
        bases: its bases.
        shop: people, gauges and test weights.
        new_parts: keys of the parts that the rebuild fits new, one-use parts included.
        texts: the CSV texts of pulls over time, by the hash of their content; a text that is
            not given is left out of the record.

    Returns:
        The proof; each of its views is worked out when it is first asked for.

    Errors:
        FaultsError: a design whose figures cannot be used.
    """
    return Proof(
        state=state,
        design=design,
        bases=tuple(bases),
        shop=shop,
        new_parts=tuple(new_parts),
        texts=texts or {},
    )


def rebuilt_at(state: JobState) -> int:
    """Number of the last entry that a step of the rebuild leans on; 0 before any."""
    ticked = [entry.last.seq for entry in state.ticks("rebuild").values()]
    return max(ticked, default=0)


def _renewed(state: JobState) -> Iterable[str]:
    for part, entry in state.choices.items():
        if isinstance(entry.body, PartChosen) and entry.body.renew:
            yield part


def _settled(state: JobState, shop: Shop) -> Iterable[tuple[tuple[str, str], Settled]]:
    """What competent persons of the shop settled; the word of anybody else does not count."""
    for key, entry in state.settled.items():
        body = entry.body
        if isinstance(body, TestSettled) and body.basis and entry.last.by in shop.adopters():
            who = shop.person(entry.last.by)
            by = who.name if who else entry.last.by
            yield key, Settled(applies=body.applies, by=by, reason=body.reason)


def _stated(state: JobState, shop: Shop) -> Stated | None:
    for entry in state.settled.values():
        body = entry.body
        if not isinstance(body, TestSettled) or body.basis or not body.applies:
            continue
        if body.load_from is None or body.load_to is None or entry.last.by not in shop.adopters():
            continue
        who = shop.person(entry.last.by)
        return Stated(
            load_from=body.load_from,
            load_to=body.load_to,
            hold=body.hold,
            by=who.name if who else entry.last.by,
            reason=body.reason,
        )
    return None
