"""The bench's own tables on PostgreSQL: the same pages, the same answers."""

from __future__ import annotations

import threading
from collections.abc import Iterator

import pytest
from bench_client import visitor
from bench_live import made_bench
from scratch_postgresql import ScratchServer

from hoistwright.web.bench import Bench
from hoistwright.web.booking import job_number


@pytest.fixture(scope="module")
def on_server() -> Iterator[Bench]:
    server = ScratchServer()
    bench = made_bench(server.fresh(), jobs=False)
    yield bench
    bench.store.close()
    server.close()


def test_the_pages_answer(on_server: Bench) -> None:
    who = visitor(on_server, "cora")
    for path in ("/", "/book-in", "/hoists?q=x", "/gauges", "/bases/uk-loler", "/designs", "/me"):
        assert who.get(path).status_code == 200, path


def test_forms_are_taken(on_server: Bench) -> None:
    who = visitor(on_server, "cora")
    booked = who.post(
        "/book-in",
        {"serial": "PG-1", "customer": "Quarry", "bases": "workshop-practice", "design": "begin",
         "wire": "6.3", "pitch": "19", "rated_load": "1 t"},
    )  # fmt: skip
    assert booked.status_code == 303
    gauge = {"name": "g", "kind": "micrometer", "measures": "length", "resolution": "0.01 mm",
             "uncertainty": "0.01 mm"}  # fmt: skip
    assert who.post("/gauges/new", gauge).status_code == 303
    assert "PG-1" in who.get("/hoists?q=pg-1").text


def test_numbers_given_at_once_are_all_different(on_server: Bench) -> None:
    """Ten benches that book in at the same moment."""
    given: list[str] = []
    threads = [
        threading.Thread(target=lambda n=n: given.append(job_number(on_server, f"{n:032x}")))
        for n in range(10)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(set(given)) == 10
    assert job_number(on_server, f"{3:032x}") in given
