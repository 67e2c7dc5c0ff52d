"""A gauge found wrong: every job that used it examined again, from the store."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from hoistwright.faults import FaultsError
from hoistwright.fleet.gauge_recall import Leaned, chance_after, examined_again
from hoistwright.fleet.recall import Doubted, used_by
from hoistwright.fleet.visit_facts import VisitFacts
from hoistwright.job.events_prove import ProofMeasured, PullRecorded, TestLoadChosen
from hoistwright.job.shop import Shop
from hoistwright.job.state import JobState
from hoistwright.store.connect import reading
from hoistwright.web.bases import bases_named
from hoistwright.web.bench import Bench
from hoistwright.web.designs import design_named
from hoistwright.web.records.shop_records import shop_of
from hoistwright.web.whole_fleet import whole_fleet


@attrs.frozen(kw_only=True, eq=False)
class Touched:
    """One visit that leaned on the gauge. `last`: the hoist's latest visit.

    `proof`: the gauge was used for the proof test, too, which must be judged by people.
    `trouble`: why nothing could be judged again.
    """

    visit: VisitFacts
    last: VisitFacts
    pairs: tuple[Leaned, ...] = ()
    proof: bool = False
    trouble: str = ""

    @property
    def changed(self) -> tuple[Leaned, ...]:
        return tuple(pair for pair in self.pairs if pair.changes)

    @property
    def telling(self) -> bool:
        """Somebody must look at it: a verdict changes, or a person must judge it."""
        return bool(self.changed or self.proof or self.trouble)

    @property
    def worse(self) -> bool:
        return any(pair.worse for pair in self.pairs)


def touched_by(bench: Bench, doubted: Doubted) -> tuple[Touched, ...]:
    """Every visit with a reading or a proof by the gauge while it was in doubt; what became worse
    comes first, then by day.
    """
    fleet = whole_fleet(bench)
    with reading(bench.engine) as conn:
        shop = shop_of(conn)
    found = [
        item for visits in fleet.visits.values() for item in _of_hoist(bench, shop, visits, doubted)
    ]
    return tuple(
        sorted(found, key=lambda t: (not t.worse, not t.changed, t.visit.day, t.visit.job))
    )


def _of_hoist(
    bench: Bench, shop: Shop, visits: Sequence[VisitFacts], doubted: Doubted
) -> Iterator[Touched]:
    read = {visit.job for visit in used_by(visits, doubted)}
    for visit in visits:
        if not doubted.covers(visit):
            continue
        state = bench.store.state(visit.job)
        proof = proved_with(state, doubted.gauge)
        if proof or visit.job in read:
            yield _touched(bench, shop, state, visit, visits[-1], doubted, proof=proof)


def _touched(
    bench: Bench, shop: Shop, state: JobState, visit: VisitFacts, last: VisitFacts,
    doubted: Doubted, *, proof: bool,
) -> Touched:  # fmt: skip
    design = design_named(bench, visit.design)
    if design is None:
        return Touched(visit=visit, last=last, proof=proof, trouble="the design is not known")
    bases = bases_named(bench, visit.bases)
    try:
        pairs = examined_again(state, design, bases, shop, doubted)
    except (FaultsError, ValueError) as error:
        return Touched(visit=visit, last=last, proof=proof, trouble=str(error))
    return Touched(visit=visit, last=last, pairs=pairs, proof=proof)


def proved_with(state: JobState, gauge: str) -> bool:
    """Whether a proof test of the job used the gauge."""
    bodies = [entry.body for entry in (*state.measured.values(), *state.pulls)]
    used = [b.gauge for b in bodies if isinstance(b, ProofMeasured | PullRecorded)]
    load = state.test_load
    if isinstance(load, TestLoadChosen):
        used.append(load.gauge)
    return gauge in used


CSV_HEADS = (
    "job", "day", "hoist", "serial", "customer", "address", "certificate", "part", "feature",
    "place", "was", "would be", "value before", "value corrected", "limit", "chance beyond",
    "changes", "proof by it",
)  # fmt: skip


def csv_rows(found: Sequence[Touched]) -> Iterator[list[object]]:
    """One row for each verdict that leaned on the gauge; one for a visit without any."""
    for item in found:
        one = item.visit.identity
        head: list[object] = [
            item.visit.job, item.visit.day, f"{one.maker} {one.model}".strip(), one.serial,
            item.visit.customer.name, item.visit.customer.address, item.visit.certificate,
        ]  # fmt: skip
        if not item.pairs:
            yield [*head, *[""] * 9, item.trouble, "yes" if item.proof else ""]
        for pair in item.pairs:
            yield [*head, *_verdict_cells(pair), "yes" if item.proof else ""]


def _verdict_cells(pair: Leaned) -> list[object]:
    old, new = pair.before.judgement, pair.after.judgement
    return [
        pair.before.part_name, pair.before.feature_name, pair.before.place,
        pair.before.outcome.words, pair.after.outcome.words,
        old.value if old else "", new.value if new else "", new.limit if new else "",
        chance_after(pair) if new else "", "yes" if pair.changes else "no",
    ]  # fmt: skip
