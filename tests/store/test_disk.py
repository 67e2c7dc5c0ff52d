"""A full or read-only disk, a busy or absent database: told plainly, nothing lost."""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import Any

import pytest
from file_harm import harm_file
from record_helpers import booking, draft, fill, reading
from scratch_postgresql import ScratchServer
from sqlalchemy import event, text

from hoistwright.faults import FaultsError
from hoistwright.store import connect
from hoistwright.store.backup import backup
from hoistwright.store.errors import AwayError, FullError, JournalError, ReadOnlyError, StoreError
from hoistwright.store.lines import export_lines
from hoistwright.store.sql_store import SqlStore, open_store


def test_a_full_sqlite_disk(tmp_path: Path) -> None:
    store = open_store(tmp_path / "shop.db")
    store.append("KQ-1", [draft(booking())])

    @event.listens_for(store.engine, "checkout")
    def _small(connection: Any, *_: Any) -> None:
        connection.execute("PRAGMA max_page_count = 60")

    sent = [draft(reading(f"section {at}")) for at in range(2000)]
    with pytest.raises(FullError, match=r"holds the record is full\. Nothing of this"):
        for one in sent:
            store.append("KQ-1", [one])
    entered = store.state("KQ-1").seq
    assert 1 < entered < 2000
    event.remove(store.engine, "checkout", _small)
    store.engine.dispose()
    store.append("KQ-1", sent)
    assert store.state("KQ-1").seq == 2001
    assert store.verify() == ()
    assert store.compare() == ()
    store.close()


def test_a_full_postgresql_disk(server: ScratchServer) -> None:
    """The server's own word for a full disk, in the middle of an append."""
    store = open_store(server.fresh())
    store.append("KQ-1", [draft(booking())])
    with store.engine.connect() as connection, connection.begin():
        connection.exec_driver_sql(
            "CREATE FUNCTION full_disk() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
            "RAISE EXCEPTION 'could not extend file' USING ERRCODE = 'disk_full'; END $$"
        )
        connection.exec_driver_sql(
            "CREATE TRIGGER full_disk BEFORE INSERT ON readings EXECUTE FUNCTION full_disk()"
        )
    with pytest.raises(FullError, match="Make room"):
        store.append("KQ-1", [draft(reading())])
    assert store.state("KQ-1").seq == 1
    assert store.verify() == ()
    store.close()


def test_a_read_only_sqlite_record(tmp_path: Path) -> None:
    store = open_store(tmp_path / "shop.db")
    store.append("KQ-1", [draft(booking())])

    @event.listens_for(store.engine, "checkout")
    def _keep(connection: Any, *_: Any) -> None:
        connection.execute("PRAGMA query_only = ON")

    with pytest.raises(ReadOnlyError, match=r"it is read-only\. Nothing of this was saved"):
        store.append("KQ-1", [draft(reading())])
    assert store.state("KQ-1").seq == 1
    store.close()


def test_a_read_only_postgresql_record(server: ScratchServer) -> None:
    address = server.fresh()
    first = open_store(address)
    first.append("KQ-1", [draft(booking())])
    first.close()
    store = open_store(address + "%20-cdefault_transaction_read_only%3Don")
    with pytest.raises(ReadOnlyError, match=r"it is read-only\. Nothing of this was saved"):
        store.append("KQ-1", [draft(reading())])
    assert store.state("KQ-1").seq == 1
    store.close()


def test_a_busy_record(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connect, "BUSY_MILLISECONDS", 50)
    store = open_store(tmp_path / "shop.db")
    greedy = sqlite3.connect(tmp_path / "shop.db", isolation_level=None)
    greedy.execute("BEGIN IMMEDIATE")
    with pytest.raises(AwayError, match="busy for too long"):
        store.append("KQ-1", [draft(booking())])
    greedy.execute("ROLLBACK")
    greedy.close()
    assert store.append("KQ-1", [draft(booking())]).state.seq == 1
    store.close()


def test_an_absent_server() -> None:
    with pytest.raises(AwayError, match="cannot be reached"):
        open_store("postgresql://nobody@127.0.0.1:1/none")


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(AwayError, match="Its folder must be there"):
        open_store(tmp_path / "none" / "shop.db")


def test_a_file_that_is_no_database(tmp_path: Path) -> None:
    path = tmp_path / "shop.db"
    path.write_text("a letter to a customer, longer than a header " * 50)
    with pytest.raises(JournalError, match="restore the last backup"):
        open_store(path)
    assert path.read_text().startswith("a letter")


def test_another_kind_of_database_is_refused() -> None:
    with pytest.raises(ValueError, match="a store on mysql; expected a path"):
        open_store("mysql://shop")


def test_a_record_of_a_newer_program_is_left_alone(store: SqlStore, address: str) -> None:
    with store.engine.connect() as connection, connection.begin():
        connection.execute(text("INSERT INTO schema_versions VALUES (99, 'later')"))
    with pytest.raises(StoreError, match="of version 99; this program knows up to"):
        open_store(address)


def test_an_export_that_cannot_be_written_leaves_the_old(filled: SqlStore, tmp_path: Path) -> None:
    with pytest.raises(FaultsError, match="a place with room that can be written"):
        export_lines(filled, tmp_path / "none" / "shop.jsonl")
    with pytest.raises((FaultsError, StoreError)):
        backup(filled, tmp_path / "none" / "shop.backup")
    assert sorted(path.name for path in tmp_path.iterdir() if ".part" in path.name) == []


def test_flipped_bits_of_a_file_are_told_or_do_nothing(tmp_path: Path) -> None:
    """Anywhere in an SQLite file: never a traceback, never a change that nobody notices."""
    store = fill(open_store(tmp_path / "shop.db"))
    assert harm_file(store, tmp_path, 60)
    store.close()


def test_a_file_whose_schema_is_no_text_is_damaged(tmp_path: Path) -> None:
    path = tmp_path / "shop.db"
    store = open_store(path)
    backup(store, tmp_path / "copy.db")
    store.close()
    data = (tmp_path / "copy.db").read_bytes()
    (tmp_path / "copy.db").write_bytes(
        data.replace(b"CREATE TABLE journal", b"CREATE T\xe1BLE journal")
    )
    with pytest.raises(JournalError, match="restore the last backup"):
        open_store(tmp_path / "copy.db")
