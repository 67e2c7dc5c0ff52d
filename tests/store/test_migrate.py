"""Migrations: forward from the first version on, and the tables are those the program knows."""

from __future__ import annotations

import pytest
from record_helpers import NOON, draft, reading
from sqlalchemy import inspect

from hoistwright.job.entry import BEGINNING, seal
from hoistwright.store.connect import open_engine, writing
from hoistwright.store.connect import reading as reading_in
from hoistwright.store.journal import enter
from hoistwright.store.migrate import latest, migrate, migrations, version
from hoistwright.store.model import Head
from hoistwright.store.sql_store import SqlStore, open_store
from hoistwright.store.tables import metadata


def test_the_tables_are_those_the_program_knows(store: SqlStore) -> None:
    found = inspect(store.engine)
    assert set(found.get_table_names()) == {*metadata.tables, "schema_versions"}
    for table in metadata.tables.values():
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


@pytest.mark.parametrize("first", [1, 2])
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
