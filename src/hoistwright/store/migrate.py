"""Bringing the tables up to date: numbered steps, forward only, each whole or not at all."""

from __future__ import annotations

import re
from importlib import resources

import attrs
from sqlalchemy import Connection, Engine, text

from hoistwright.job.entry import BEGINNING
from hoistwright.store.connect import reading, writing
from hoistwright.store.errors import StoreError

_NAME = re.compile(r"(\d{4})_(\w+?)(?:\.(sqlite|postgresql))?\.sql")

_WORDS = {
    "sqlite": {
        "big": "INTEGER",
        "real": "REAL",
        "blob": "BLOB",
        "serial": "INTEGER NOT NULL",
        "strict": "STRICT",
    },
    "postgresql": {
        "big": "BIGINT",
        "real": "DOUBLE PRECISION",
        "blob": "BYTEA",
        "serial": "SERIAL",
        "strict": "",
    },
}
_BYTEWISE = {"sqlite": "COLLATE BINARY", "postgresql": 'COLLATE "C"'}


@attrs.frozen
class Migration:
    version: int
    name: str
    statements: tuple[str, ...]


def migrations(dialect: str) -> tuple[Migration, ...]:
    """The steps for a database of this kind, in order."""
    found: list[Migration] = []
    for file in resources.files("hoistwright.store.migrations").iterdir():
        match = _NAME.fullmatch(file.name)
        if match and match[3] in (None, dialect):
            sql = file.read_text(encoding="utf-8")
            pieces = tuple(_filled(piece, dialect) for piece in re.split(r"(?m)^-- next$", sql))
            found.append(Migration(int(match[1]), match[2], pieces))
    return tuple(sorted(found, key=lambda step: step.version))


def latest(dialect: str) -> int:
    """The version this program needs."""
    return migrations(dialect)[-1].version


def migrate(engine: Engine, *, to: int | None = None) -> tuple[int, int]:
    """Apply what is not applied yet; the version before and after.

    Raises StoreError where the tables are of a newer program.
    """
    dialect = engine.dialect.name
    steps = migrations(dialect)
    last = steps[-1].version
    want = last if to is None else to
    with reading(engine) as connection:
        now = version(connection)
    if now > last:
        raise StoreError(
            f"The record is of version {now}; this program knows up to {last}. Use the newer "
            "program: nothing was changed."
        )
    if now >= want:
        return now, now
    with writing(engine) as connection:
        _lock(connection, dialect)
        before = version(connection)
        for step in steps:
            if before < step.version <= want:
                _apply(connection, step)
        return before, max(before, want)


def version(connection: Connection) -> int:
    """The version of the tables; 0 where there are none."""
    if not connection.dialect.has_table(connection, "schema_versions"):
        return 0
    found = connection.execute(text("SELECT max(version) FROM schema_versions")).scalar()
    return int(found or 0)


def _apply(connection: Connection, step: Migration) -> None:
    connection.exec_driver_sql(
        "CREATE TABLE IF NOT EXISTS schema_versions "
        "(version INTEGER NOT NULL PRIMARY KEY, name TEXT NOT NULL)"
    )
    for statement in step.statements:
        connection.exec_driver_sql(statement)
    connection.execute(
        text("INSERT INTO schema_versions (version, name) VALUES (:version, :name)"),
        {"version": step.version, "name": step.name},
    )


def _lock(connection: Connection, dialect: str) -> None:
    """Two programs that start at once migrate one after the other."""
    if dialect == "postgresql":
        connection.exec_driver_sql("SELECT pg_advisory_xact_lock(4720841)")


def _filled(piece: str, dialect: str) -> str:
    words = {**_WORDS[dialect], "bytewise": _BYTEWISE[dialect], "beginning": BEGINNING}
    for word, stands in words.items():
        piece = piece.replace(f"{{{word}}}", stands)
    return piece.strip()
