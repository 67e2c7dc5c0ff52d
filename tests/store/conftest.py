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
    return running.fresh()


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


@pytest.fixture(scope="session")
def photo() -> bytes:
    """A small photo as a telephone takes it: with the place where it was taken."""
    import io

    from PIL import Image

    picture = Image.effect_noise((320, 240), 40).convert("RGB")
    exif = Image.Exif()
    exif[0x0112] = 6  # held upright
    exif[0x010F] = "a telephone"
    exif.get_ifd(0x8825).update({1: "N", 2: (54.0, 30.0, 0.0), 3: "W", 4: (3.0, 10.0, 0.0)})
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif)
    return out.getvalue()
