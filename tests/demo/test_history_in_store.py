"""The demo's history in a store: whole, sealed, and the same as if entered one by one."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from scratch_postgresql import ScratchServer

from hoistwright.demo.bench_jobs import OUT_OF_TRUE, fill_demo
from hoistwright.demo.fill_history import batches, fill_history
from hoistwright.demo.history import plan, told
from hoistwright.demo.shop_files import demo_folder
from hoistwright.job.entry import Draft
from hoistwright.job.shop_file import load_shop
from hoistwright.job.state import LEFT, STAGES
from hoistwright.store.restore import BATCH
from hoistwright.store.sql_store import SqlStore, open_store
from hoistwright.web.serving import start_bench

SHOP = load_shop(demo_folder() / "shop.toml")
FEW = 10


@pytest.fixture(params=["sqlite", "postgresql"])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[SqlStore]:
    if request.param == "sqlite":
        opened = open_store(tmp_path / "shop.db")
        yield opened
        opened.close()
        return
    running = ScratchServer()
    opened = open_store(running.fresh())
    yield opened
    opened.close()
    running.close()


def test_both_databases_hold_it_whole_and_their_tables_follow(store: SqlStore) -> None:
    jobs, entries = fill_history(store, SHOP, hoists=FEW)
    assert store.verify() == ()
    assert store.compare() == ()
    assert store.head().number == entries
    assert sum(sum(found.values()) for found in store.waiting().values()) == jobs
    assert fill_history(store, SHOP, hoists=FEW)[1] == 0, "entered a second time"


def test_entries_one_by_one_come_to_the_same_state(tmp_path: Path) -> None:
    """Through the door that the pages use: the same bodies give the same rows."""
    job = told(plan(hoists=3).planned[-1], SHOP)
    bulk, single = open_store(tmp_path / "bulk.db"), open_store(tmp_path / "single.db")
    bulk.restore(job.events())
    for event in job.events():
        draft = Draft(id=event.id, by=event.by, body=event.body)
        single.append(job.job, [draft], now=event.at)
    assert single.state(job.job).hash == bulk.state(job.job).hash
    assert single.job(job.job) == bulk.job(job.job)
    hoist = bulk.state(job.job).booked
    assert hoist is not None
    assert single.search(hoist.hoist.serial) == bulk.search(hoist.hoist.serial) != ()
    bulk.close()
    single.close()


def test_batches_hold_whole_jobs() -> None:
    jobs = [told(one, SHOP) for one in plan(hoists=12).planned]
    seen: set[str] = set()
    for batch in batches(jobs):
        assert len(batch) <= BATCH
        here = {event.job for event in batch}
        assert not here & seen
        seen |= here
    assert seen == {job.job for job in jobs}


def test_the_demo_bench_has_jobs_at_each_stage_with_its_history(tmp_path: Path) -> None:
    bench = start_bench(tmp_path / "demo.db", shop=demo_folder() / "shop.toml", demo=True)
    fill_demo(bench, hoists=120)
    waiting = {stage: sum(found.values()) for stage, found in bench.store.waiting().items()}
    assert all(waiting.get(stage, 0) >= 2 for stage in STAGES)
    assert waiting[LEFT] > 120
    remarks = [entry.body for entry in bench.store.state("KQ-0407").remarks]
    assert OUT_OF_TRUE in [getattr(body, "text", "") for body in remarks]
    assert fill_demo(bench, hoists=120) == 0
    bench.store.close()


def test_without_a_number_of_hoists_there_is_no_history(tmp_path: Path) -> None:
    bench = start_bench(tmp_path / "demo.db", shop=demo_folder() / "shop.toml", demo=True)
    assert fill_demo(bench) == 11
    assert LEFT not in bench.store.waiting()
    bench.store.close()
