"""The bench with the demo's history: what has left does not stand in the way, wear is told."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator

import pytest
from bench_client import Visitor, visitor
from bench_live import made_bench

from hoistwright.demo.bench_jobs import fill_demo
from hoistwright.demo.will_not_last import wearing_hoist
from hoistwright.job.events import ReadingEntered
from hoistwright.job.hoist_key import hoist_key
from hoistwright.job.state import LEFT, STAGES
from hoistwright.web.bench import Bench
from hoistwright.web.whole_fleet import whole_fleet

HOISTS = 25
HOIST = wearing_hoist()
KEY = hoist_key(HOIST.identity(datetime.date(2024, 1, 1)), HOIST.customer.name, "")


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    made = made_bench(tmp_path_factory.mktemp("history"), jobs=False)
    fill_demo(made, hoists=HOISTS)
    yield made
    made.store.close()


@pytest.fixture
def cora(bench: Bench) -> Visitor:
    return visitor(bench, "cora")


def words(page: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", page).split())


def test_the_first_page_counts_what_is_in_the_shop(bench: Bench, cora: Visitor) -> None:
    waiting = bench.store.waiting()
    here = sum(sum(waiting[stage].values()) for stage in STAGES if stage in waiting)
    left = sum(waiting[LEFT].values())
    shown = words(cora.get("/").text)
    assert left > HOISTS
    assert f"{here} hoists" in shown
    assert "card-" not in shown


def test_the_register_begins_with_the_hoists_that_are_here(bench: Bench, cora: Visitor) -> None:
    page = cora.get("/hoists").text
    here = {job.serial for stage in STAGES for job in bench.store.jobs(stage=stage) if job.serial}
    assert HOIST.serial in page
    shown = set(re.findall(r"A\w*-\d{3,5}", words(page)))
    assert shown
    assert shown <= here


def test_a_visit_from_a_card_has_left_and_asks_for_nothing(bench: Bench, cora: Visitor) -> None:
    card = next(j.job for j in bench.store.jobs(hoist=KEY) if j.job.startswith("card"))
    shown = words(cora.get(f"/jobs/{card}").text)
    assert "Left the shop" in shown
    assert "Not ticked" not in shown


def test_the_chain_that_is_fit_and_will_not_last_is_told_with_picture_and_price(
    bench: Bench, cora: Visitor
) -> None:
    """Issue: for a hoist whose chain is fit today but will not last, the bench says so."""
    job = next(j.job for j in bench.store.jobs(hoist=KEY) if j.stage == "renew")
    page = cora.get(f"/jobs/{job}/renew").text
    advised = page[page.index("Advised while the hoist is open") :]
    shown = words(advised)
    assert re.search(r"load chain .{0,60}fit", shown)
    chance = re.search(
        r"chance of reaching it before the next visit is about (\d+) in (\d+)", shown
    )
    assert chance is not None
    assert int(chance[1]) / int(chance[2]) >= 0.5
    assert "<svg" in advised
    assert re.search(r"GBP \d+\.\d\d", shown)


def test_a_reading_that_does_not_fit_is_told_as_the_gauge_read_it(
    bench: Bench, cora: Visitor
) -> None:
    """A share of the way to the limit is no figure that anybody read off."""
    hoists = [
        hoist
        for hoist, outlooks in whole_fleet(bench).outlooks.items()
        if any(outlook.prognosis and outlook.prognosis.suspects for outlook in outlooks)
    ]
    assert hoists
    jobs = [row.job for row in bench.store.jobs(hoist=hoists[0], limit=50)]
    read = [
        1000 * value
        for job in jobs
        for entry in bench.store.state(job).readings.values()
        if isinstance(entry.body, ReadingEntered)
        for value in entry.body.values
    ]
    page = words(cora.get(f"/jobs/{jobs[0]}/history").text)
    told = re.findall(r"The reading ([\d.,]+) mm (?:of [^.]+? )?does not fit the others", page)
    assert told
    for figure in told:
        value = float(figure.replace(",", ""))
        assert min(abs(value - mm) for mm in read) < 0.006 * value
    assert "standard deviations" not in page
