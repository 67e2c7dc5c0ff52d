"""Insert or replace by key, the same call on both databases."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, Engine, Table
from sqlalchemy.dialects import postgresql, sqlite


def put(connection: Connection, table: Table, rows: Sequence[Mapping[str, Any]]) -> None:
    """Insert rows, or replace those with the same key."""
    key = (connection.dialect.name, table.name)
    if key not in _PUTS:
        _PUTS[key] = _statement(connection.dialect.name, table)
    connection.execute(_PUTS[key], rows)


_PUTS: dict[tuple[str, str], Any] = {}
_TEXTS: dict[tuple[str, str], tuple[str, tuple[str, ...]]] = {}


def put_text(engine: Engine, table: Table) -> tuple[str, tuple[str, ...]]:
    """The same for one row, as the driver takes it, with the columns in the order of its marks."""
    key = (engine.dialect.name, table.name)
    if key not in _TEXTS:
        made = _statement(engine.dialect.name, table).compile(dialect=engine.dialect)
        names = made.positiontup or [column.name for column in table.columns]
        _TEXTS[key] = made.string, tuple(names)
    return _TEXTS[key]


def _statement(dialect: str, table: Table) -> Any:
    make: Any = sqlite.insert if dialect == "sqlite" else postgresql.insert
    statement = make(table)
    keys = [column.name for column in table.primary_key]
    rest = {c.name: statement.excluded[c.name] for c in table.columns if c.name not in keys}
    return statement.on_conflict_do_update(index_elements=keys, set_=rest)
