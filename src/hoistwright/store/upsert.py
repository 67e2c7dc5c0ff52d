"""Insert or replace by key, the same call on both databases."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, Table, bindparam, update
from sqlalchemy.dialects import postgresql, sqlite


def put(connection: Connection, table: Table, rows: Sequence[Mapping[str, Any]]) -> None:
    """Insert rows, or replace those with the same key."""
    key = (connection.dialect.name, table.name)
    if key not in _PUTS:
        _PUTS[key] = _statement(connection.dialect.name, table)
    connection.execute(_PUTS[key], rows)


_PUTS: dict[tuple[str, str], Any] = {}
_TEXTS: dict[tuple[str, tuple[str, ...]], tuple[str, tuple[str, ...]]] = {}


def sqlite_text(table: Table, row: Mapping[str, Any]) -> tuple[str, tuple[str, ...]]:
    """The same for one row as SQLite's driver takes it, with the columns in the order of its marks.

    A row without some columns is one that is there and keeps them.
    """
    key = (table.name, tuple(row))
    if key not in _TEXTS:
        _TEXTS[key] = _sqlite_text(table, tuple(row))
    return _TEXTS[key]


def _sqlite_text(table: Table, names: tuple[str, ...]) -> tuple[str, tuple[str, ...]]:
    dialect = sqlite.dialect()
    if len(names) == len(table.columns):
        made = _statement("sqlite", table).compile(dialect=dialect)
    else:
        (key,) = table.primary_key.columns
        rest: dict[str, Any] = {name: bindparam(name) for name in names if name != key.name}
        narrow = update(table).where(key == bindparam(f"its_{key.name}")).values(rest)
        made = narrow.compile(dialect=dialect)
    return made.string, tuple(name.removeprefix("its_") for name in made.positiontup or ())


def _statement(dialect: str, table: Table) -> Any:
    make: Any = sqlite.insert if dialect == "sqlite" else postgresql.insert
    statement = make(table)
    keys = [column.name for column in table.primary_key]
    rest = {c.name: statement.excluded[c.name] for c in table.columns if c.name not in keys}
    return statement.on_conflict_do_update(index_elements=keys, set_=rest)
