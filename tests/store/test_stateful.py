"""Whatever people do in whatever order: the record is the fold of what it acknowledged."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

import hypothesis.strategies as st
import pytest
from hypothesis import HealthCheck, settings
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    initialize,
    invariant,
    multiple,
    rule,
    run_state_machine_as_test,
)
from record_helpers import booking, draft, look, reading
from scratch_postgresql import ScratchServer

from hoistwright.job.entry import Draft, Event
from hoistwright.job.events import Body, Corrected, PartChosen, StageFinished, StepTicked
from hoistwright.job.fold import fold
from hoistwright.store.lines import export_lines, import_lines
from hoistwright.store.sql_store import SqlStore, open_store

JOBS = ["KQ-1", "KQ-2", "KQ-3"]

bodies: st.SearchStrategy[Body] = st.one_of(
    st.builds(booking, serial=st.sampled_from(["A-1", "A-2", ""]), tag=st.sampled_from(["", "T1"])),
    st.builds(
        reading, place=st.sampled_from(["section 1", "section 2"]), value=st.floats(0.02, 0.03)
    ),
    st.builds(look, st.sampled_from(["in order", "defect", "not looked"])),
    st.builds(StepTicked, way=st.just("strip"), step=st.just("cover"), done=st.booleans()),
    st.builds(PartChosen, part=st.sampled_from(["pawl", "load_chain"]), renew=st.booleans()),
    st.just(StageFinished(stage="book in")),
)
people = st.sampled_from(["odile", "tomasz", "wren"])


class Record(RuleBasedStateMachine):
    address: str = ""
    folder: Path

    sent = Bundle("sent")

    @initialize()
    def opened(self) -> None:
        self.store: SqlStore = open_store(self.new_address())
        self.told: dict[str, dict[str, Event]] = {job: {} for job in JOBS}

    def new_address(self) -> str:
        """Where an empty record is; each database gives its own."""
        return self.address

    @rule(
        target=sent,
        job=st.sampled_from(JOBS),
        said=st.lists(bodies, min_size=1, max_size=3),
        by=people,
        seen=st.none() | st.integers(0, 5),
    )
    def enters(self, job: str, said: list[Body], by: str, seen: int | None) -> Any:
        drafts = [draft(body, by=by, seen=seen) for body in said]
        self._note(job, drafts)
        return multiple(*((job, one) for one in drafts))

    @rule(one=sent)
    def sends_again(self, one: tuple[str, Draft]) -> None:
        job, again = one
        done = self.store.append(job, [again])
        assert done.fresh == frozenset()
        assert done.events == (self.told[job][again.id],)

    @rule(target=sent, one=sent, by=people, withdraw=st.booleans())
    def corrects(self, one: tuple[str, Draft], by: str, withdraw: bool) -> Any:
        job, first = one
        said = first.body.replacement if isinstance(first.body, Corrected) else first.body
        body = Corrected(corrects=first.id, replacement=None if withdraw else said)
        correction = draft(body, by=by)
        self._note(job, [correction])
        return job, correction

    @rule()
    def closes_and_opens(self) -> None:
        self.store.close()
        self.store = open_store(self.address)

    @rule()
    def rebuilds(self) -> None:
        self.store.rebuild()

    def _note(self, job: str, drafts: list[Draft]) -> None:
        for event in self.store.append(job, drafts).events:
            self.told[job][event.id] = event

    @invariant()
    def is_the_fold_of_what_was_told(self) -> None:
        for job, told in self.told.items():
            events = sorted(told.values(), key=lambda event: event.seq)
            assert self.store.state(job) == fold(job, events)

    @invariant()
    def tables_follow(self) -> None:
        assert self.store.compare() == ()

    def teardown(self) -> None:
        try:
            assert self.store.verify() == ()
            self._goes_out_and_in()
        finally:
            self.store.close()

    def _goes_out_and_in(self) -> None:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "shop.jsonl"
            export_lines(self.store, path)
            other = open_store(Path(folder) / "other.db")
            import_lines(other, path)
            assert other.head() == self.store.head()
            assert other.jobs() == self.store.jobs()
            other.close()


@pytest.mark.parametrize(("kind", "examples"), [("sqlite", 40), ("postgresql", 20)])
def test_any_order_of_work(kind: str, examples: int, tmp_path: Path, server: ScratchServer) -> None:
    class OnThis(Record):
        count = 0

        def new_address(self) -> str:
            OnThis.count += 1
            path = str(tmp_path / f"shop-{OnThis.count}.db")
            self.address = path if kind == "sqlite" else server.fresh()
            return self.address

    run_state_machine_as_test(
        OnThis,
        settings=settings(
            max_examples=examples,
            stateful_step_count=14,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
