"""Migrations: forward from the first version on, and the tables are those the program knows."""

from __future__ import annotations

import pytest
from record_helpers import NOON, draft, reading
from sqlalchemy import Connection, Engine, Table, inspect, select

from hoistwright.job.entry import BEGINNING, seal
from hoistwright.store.connect import open_engine, writing
from hoistwright.store.connect import reading as reading_in
from hoistwright.store.journal import enter
from hoistwright.store.migrate import latest, migrate, migrations, version
from hoistwright.store.model import Head
from hoistwright.store.sql_store import SqlStore, open_store
from hoistwright.store.tables import metadata
from hoistwright.web.records.accounts import Account, add_account
from hoistwright.web.records.attempts import note_failure
from hoistwright.web.records.settings import keep_setting
from hoistwright.web.records.shop_records import keep_item
from hoistwright.web.records.tables import metadata as bench_metadata


def test_the_tables_are_those_the_program_knows(store: SqlStore) -> None:
    found = inspect(store.engine)
    tables = {**metadata.tables, **bench_metadata.tables}
    assert set(found.get_table_names()) == {*tables, "schema_versions"}
    for table in tables.values():
        have = {column["name"]: column["nullable"] for column in found.get_columns(table.name)}
        assert have == {column.name: column.nullable for column in table.columns}, table.name
        keys = found.get_pk_constraint(table.name)["constrained_columns"]
        assert keys == [column.name for column in table.primary_key], table.name


def test_a_record_of_version_1_comes_up_with_all_its_entries(address: str) -> None:
    """As left by a program that knew the journal only."""
    engine = open_engine(address)
    assert migrate(engine, to=1) == (0, 1)
    event = seal(draft(reading()), job="KQ-1", seq=1, at=NOON, before=BEGINNING)
    with writing(engine) as connection:
        enter(connection, Head(number=0, chain=BEGINNING), [event])
    engine.dispose()
    store = open_store(address)
    assert store.events("KQ-1") == (event,)
    assert store.job("KQ-1") is not None
    assert store.verify() == ()
    assert store.compare() == ()
    store.close()


def test_a_bench_of_before_the_numbered_steps_keeps_what_it_has(address: str) -> None:
    """As left by a program that made the bench's tables itself, and not yet all of them."""
    engine = open_engine(address)
    migrate(engine, to=5)
    later = ("bench_basis", "bench_price_list", "bench_calendar")
    old = [table for name, table in bench_metadata.tables.items() if name not in later]
    with writing(engine) as connection:
        bench_metadata.create_all(connection, tables=old)
        add_account(connection, Account(key="cora", name="Cora", roles=("technician",), pin="x"))
        keep_setting(connection, "signing key", "kept")
        keep_item(connection, "gauges", "cal-1", {"key": "cal-1", "name": "caliper"})
        note_failure(connection, "cora", "::1", NOON)
    before = _content(engine, old)
    engine.dispose()
    store = open_store(address)
    assert _content(store.engine, old) == before
    with writing(store.engine) as connection:  # rows without a number given are still numbered
        note_failure(connection, "tim", "::1", NOON)
        take_list(connection, "list.csv", "cora")
    assert {*inspect(store.engine).get_table_names()} >= {*bench_metadata.tables}
    store.close()


def take_list(connection: Connection, name: str, by: str) -> None:
    row = {"at": "2026-11-25", "by": by, "name": name, "digest": "d", "body": "{}"}
    connection.execute(bench_metadata.tables["bench_price_list"].insert(), [row])


def _content(engine: Engine, tables: list[Table]) -> dict[str, list[str]]:
    with reading_in(engine) as connection:
        return {
            table.name: sorted(map(repr, connection.execute(select(table)).all()))
            for table in tables
        }


@pytest.mark.parametrize("first", [1, 2, 5])
def test_from_each_version_to_the_last(address: str, first: int) -> None:
    engine = open_engine(address)
    last = latest(engine.dialect.name)
    assert migrate(engine, to=first) == (0, first)
    assert migrate(engine) == (first, last)
    assert migrate(engine) == (last, last)
    with reading_in(engine) as connection:
        assert version(connection) == last
    engine.dispose()


@pytest.mark.parametrize("dialect", ["sqlite", "postgresql"])
def test_numbers_follow_without_gaps(dialect: str) -> None:
    numbers = [step.version for step in migrations(dialect)]
    assert numbers == list(range(1, len(numbers) + 1))


def test_sqlite_tables_are_strict_and_durable(tmp_path_factory: pytest.TempPathFactory) -> None:
    store = open_store(tmp_path_factory.mktemp("strict") / "shop.db")
    with store.engine.connect() as connection:
        for name, strict in connection.exec_driver_sql(
            "SELECT name, strict FROM pragma_table_list WHERE type = 'table' AND schema = 'main'"
        ):
            assert strict or name in ("schema_versions", "sqlite_schema"), name
        pragmas = [
            connection.exec_driver_sql(f"PRAGMA {name}").scalar()
            for name in ("journal_mode", "synchronous", "foreign_keys")
        ]
    assert pragmas == ["wal", 2, 1]  # 2 is FULL
    store.close()
