"""Both databases, and a fresh record in each."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from record_helpers import fill
from scratch_postgresql import ScratchServer

from hoistwright.store.sql_store import SqlStore, open_store


@pytest.fixture(scope="session")
def server() -> Iterator[ScratchServer]:
    """Not skipped where PostgreSQL is missing: it says what to install."""
    running = ScratchServer()
    yield running
    running.close()


@pytest.fixture(params=["sqlite", "postgresql"])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    if request.param == "sqlite":
        return str(tmp_path / "shop.db")
    running: ScratchServer = request.getfixturevalue("server")
    return running.database()


@pytest.fixture
def store(address: str) -> Iterator[SqlStore]:
    opened = open_store(address)
    yield opened
    opened.close()


@pytest.fixture
def other(tmp_path: Path) -> Iterator[SqlStore]:
    """A second, empty record, to import into."""
    opened = open_store(tmp_path / "other.db")
    yield opened
    opened.close()


@pytest.fixture
def filled(store: SqlStore) -> SqlStore:
    return fill(store)
