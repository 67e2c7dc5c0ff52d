"""kill -9 under write load. The tool `tools/reliability.py` does a thousand on each database."""

from __future__ import annotations

import random
from pathlib import Path

from killed_writer import JOBS, kill_once, lost
from record_helpers import draft, reading
from scratch_postgresql import ScratchServer

from hoistwright.store.sql_store import open_store

KILLS = 20


def test_a_killed_writer_loses_nothing_it_acknowledged(address: str) -> None:
    open_store(address).close()
    rng, acknowledged = random.Random(20), []
    for _ in range(KILLS):
        told = kill_once(address, rng)
        assert told, "the writer was killed before it wrote anything: nothing was tested"
        acknowledged += told
    assert lost(address, acknowledged, JOBS) == []
    store = open_store(address)
    assert store.verify() == ()
    assert store.compare() == ()
    store.append("KQ-1", [draft(reading())])
    store.close()


def test_a_killed_server_loses_nothing_it_acknowledged(tmp_path: Path) -> None:
    """PostgreSQL stopped as by a power cut in the middle of the work, and started again."""
    server = ScratchServer()
    try:
        address = server.fresh()
        store = open_store(address)
        sent = [draft(reading(f"section {at}")) for at in range(40)]
        for one in sent:
            store.append("KQ-1", [one])
        server.stop("immediate")
        server.start()
        assert {event.id for event in store.events("KQ-1")} == {one.id for one in sent}
        assert store.verify() == ()
        store.close()
    finally:
        server.close()
