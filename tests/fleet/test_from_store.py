"""The fleet out of a real record, on SQLite and on PostgreSQL."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from pathlib import Path

import attrs
import pytest
from bench_live import made_bench
from fleet_scene import Visit, enter, facts_of, known_on, made_fleet
from scratch_postgresql import ScratchServer

from hoistwright.fleet.due import all_due
from hoistwright.fleet.forecasts import fleet
from hoistwright.fleet.recall import Doubted
from hoistwright.fleet.visit_facts import lasting
from hoistwright.store.connect import reading, writing
from hoistwright.web.bench import Bench
from hoistwright.web.gauge_recalls import csv_rows, touched_by
from hoistwright.web.records.calendars import (
    calendar_of,
    calendars_of,
    end_calendar,
    new_calendar,
)
from hoistwright.web.records.fleet_visits import kept_facts, made_of
from hoistwright.web.records.shop_records import item, keep_item, shop_of
from hoistwright.web.whole_fleet import job_risks, job_wear_date, whole_fleet


@pytest.fixture(scope="module")
def server() -> Iterator[ScratchServer]:
    running = ScratchServer()
    yield running
    running.close()


@pytest.fixture(params=["sqlite", "postgresql"])
def bench(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Bench]:
    where: Path | str = tmp_path
    if request.param == "postgresql":
        where = request.getfixturevalue("server").fresh()
    made = made_bench(where, people=False, jobs=False)
    for visit in made_fleet(24, made.today):
        enter(made.store, visit)
    yield made
    made.store.close()


def test_the_store_gives_what_the_events_give(bench: Bench) -> None:
    found = whole_fleet(bench)
    pure = fleet(facts_of(made_fleet(24, bench.today)), known_on(bench.today))
    assert len(found.visits) == 24
    stored = {key.rsplit("/")[-1]: [v.found for v in many] for key, many in found.visits.items()}
    told = {
        "".join(c for c in key.rsplit("/")[-1].lower() if c.isalnum()): [v.found for v in many]
        for key, many in pure.visits.items()
    }
    assert stored == told
    assert [d.day for d in all_due(found)] == [d.day for d in all_due(pure)]


def test_it_is_worked_out_anew_only_when_a_visit_changes(bench: Bench) -> None:
    first = whole_fleet(bench)
    assert whole_fleet(bench) is first
    new = Visit(job="N-1", serial="NEW", day=bench.today, chain=0.4, stop="examine")
    enter(bench.store, new)
    begun = whole_fleet(bench)
    assert not begun.outlooks.get("ardle/new")
    enter(bench.store, attrs.evolve(new, job="N-2", stop=""))
    assert {o.part for o in whole_fleet(bench).outlooks["ardle/new"]} >= {"load_chain"}


def test_a_job_tells_its_risks_and_its_day_by_wear(bench: Bench) -> None:
    year_ago = bench.today - datetime.timedelta(days=365)
    enter(bench.store, Visit(job="W-1", serial="W", day=year_ago, chain=0.5))
    enter(bench.store, Visit(job="W-2", serial="W", day=bench.today, chain=0.85, stop="renew"))
    risks = job_risks(bench, "W-2")
    assert risks[0].part == "load_chain"
    assert risks[0].probability > 0.5
    day = job_wear_date(bench, "W-2", bench.today)
    assert day is not None
    assert bench.today < day.day < bench.today + datetime.timedelta(days=300)
    assert job_risks(bench, "no such job") == ()
    assert job_wear_date(bench, "no such job", bench.today) is None


def test_a_gauge_found_wrong_is_followed_through_the_record(bench: Bench) -> None:
    day = bench.today - datetime.timedelta(days=20)
    enter(bench.store, Visit(job="G-1", serial="G", day=day, chain=0.8))
    doubted = Doubted(gauge="long-1", since=day, until=bench.today, error=-0.002)
    found = {item.visit.job: item for item in touched_by(bench, doubted)}
    assert found["G-1"].worse
    assert {pair.before.part for pair in found["G-1"].pairs} == {"load_chain"}
    rows = [row for row in csv_rows(list(found.values())) if row[0] == "G-1"]
    assert len(rows) == len(found["G-1"].pairs)


def test_a_bench_started_anew_takes_what_was_kept(tmp_path: Path) -> None:
    bench = made_bench(tmp_path, people=False, jobs=False)
    for visit in made_fleet(12, bench.today):
        enter(bench.store, visit)
    first = all_due(whole_fleet(bench))
    bench.store.close()
    again = made_bench(tmp_path, people=False, jobs=False)
    with reading(again.engine) as conn:
        source = made_of(lasting(shop_of(conn).all_gauges()))
        kept = kept_facts(conn, source)
    assert len(kept) == len(again.store.jobs(limit=1000))
    found = all_due(whole_fleet(again))
    assert [(d.hoist, d.day, d.why) for d in found] == [(d.hoist, d.day, d.why) for d in first]
    again.store.close()


def test_other_gauges_make_all_anew(tmp_path: Path) -> None:
    """A gauge with a larger uncertainty: what was kept with the old one is not taken."""
    bench = made_bench(tmp_path, people=False, jobs=False)
    enter(bench.store, Visit(job="A-1", serial="A", day=bench.today, chain=0.5))
    before = whole_fleet(bench).visits["ardle/a"][0].found[0].u
    with writing(bench.engine) as conn:
        gauge = item(conn, "gauges", "long-1")
        assert gauge is not None
        keep_item(conn, "gauges", "long-1", {**gauge, "uncertainty": "0.6 mm"})
    assert whole_fleet(bench).visits["ardle/a"][0].found[0].u > 2 * before
    bench.store.close()


def test_a_calendar_address_opens_and_is_voided(bench: Bench) -> None:
    with writing(bench.engine) as conn:
        old = new_calendar(conn, "cora", "Quarry", "fr", bench.now())
        new = new_calendar(conn, "cora", "Quarry", "fr", bench.now())
        other = new_calendar(conn, "cora", "", "en", bench.now())
    with reading(bench.engine) as conn:
        assert calendar_of(conn, old) is None
        found = calendar_of(conn, new)
        assert found is not None
        assert (found.person, found.customer, found.language) == ("cora", "Quarry", "fr")
        assert [a.customer for a in calendars_of(conn, "cora")] == ["", "Quarry"]
        assert new not in repr(calendars_of(conn, "cora"))  # only hashes are kept
    with writing(bench.engine) as conn:
        end_calendar(conn, "cora", "Quarry")
        assert calendar_of(conn, new) is None
        assert calendar_of(conn, other) is not None
