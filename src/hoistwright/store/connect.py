"""Opening the database: SQLite or PostgreSQL, each so that an acknowledged entry is on disk."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import DatabaseError, DBAPIError, InterfaceError, OperationalError

from hoistwright.store.errors import (
    AwayError,
    FullError,
    JournalError,
    ReadOnlyError,
    StoreError,
)

BUSY_MILLISECONDS = 20_000
_WRITES = "hoistwright_writes"

_SAFE = "Nothing of this was saved; everything acknowledged before is safe."


def open_engine(where: str | Path) -> Engine:
    """An engine for a path (SQLite) or an address that begins with `postgresql://`."""
    url = url_of(where)
    if url.get_backend_name() == "sqlite":
        return _sqlite(url)
    return _postgresql(url)


def url_of(where: str | Path) -> URL:
    """The database meant by a path or an address. Raises ValueError for any other kind."""
    if isinstance(where, Path) or "://" not in where:
        return URL.create("sqlite+pysqlite", database=str(where))
    url = make_url(where)
    if url.get_backend_name() not in ("sqlite", "postgresql"):
        raise ValueError(
            f"a store on {url.get_backend_name()}; expected a path, or an address that begins "
            "with postgresql://"
        )
    return url.set(drivername="postgresql+psycopg") if url.drivername == "postgresql" else url


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """A transaction that only reads, all from one moment."""
    with _told(), engine.connect() as connection, connection.begin():
        yield connection


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """A transaction that writes; whole and on disk when it ends, or not at all."""
    with _told(), engine.connect() as plain:
        connection = plain.execution_options(**{_WRITES: True})
        with connection.begin():
            yield connection


@contextmanager
def _told() -> Iterator[None]:
    try:
        yield
    except UnicodeDecodeError as error:  # bytes, even of its own messages, that are no text
        raise explained(sqlite3.DatabaseError(f"could not decode: {error}")) from error
    except (OperationalError, DatabaseError, InterfaceError, sqlite3.Error) as error:
        raise explained(error) from error


def explained(error: Exception) -> StoreError:
    """The database's word as ours."""
    original = error.orig if isinstance(error, DBAPIError) else error
    said = " ".join(str(original).split())
    state = getattr(original, "sqlstate", None) or ""
    for cls, states, words, sentence in _MEANINGS:
        if state in states or any(word in said.casefold() for word in words):
            return cls(sentence.format(said=said))
    if isinstance(error, OperationalError | InterfaceError) or state[:2] in ("08", "57"):
        return AwayError(f"The record cannot be reached or written ({said}). {_SAFE}")
    return StoreError(f"The database refused this ({said}). {_SAFE}")


_MEANINGS: tuple[tuple[type[StoreError], tuple[str, ...], tuple[str, ...], str], ...] = (
    (
        FullError,
        ("53100",),
        ("is full", "no space", "too large"),
        f"The disk that holds the record is full. {_SAFE} Make room, send again.",
    ),
    (
        ReadOnlyError,
        ("25006",),
        ("readonly", "read-only"),
        f"The record cannot be written: it is read-only. {_SAFE}",
    ),
    (
        JournalError,
        ("XX001", "XX002"),
        ("malformed", "not a database", "decode"),
        "The database file is damaged ({said}). Keep it as it is, and restore the last backup "
        "beside it.",
    ),
    (
        AwayError,
        (),
        ("unable to open",),
        "The record cannot be opened. Its folder must be there, and SQLite must be able to write "
        f"beside the file. {_SAFE}",
    ),
    (
        AwayError,
        ("55P03",),
        ("locked", "busy"),
        f"The record was busy for too long. {_SAFE} Send it again.",
    ),
)


def _sqlite(url: URL) -> Engine:
    engine = create_engine(
        url, connect_args={"timeout": BUSY_MILLISECONDS / 1000, "check_same_thread": False}
    )

    @event.listens_for(engine, "connect")
    def _connected(connection: Any, _record: Any) -> None:
        connection.isolation_level = None  # we say BEGIN ourselves
        for pragma in (
            f"busy_timeout = {BUSY_MILLISECONDS}",
            "journal_mode = WAL",
            "synchronous = FULL",
            "foreign_keys = ON",
            "trusted_schema = OFF",
            "cache_size = -32000",
        ):
            _pragma(connection, pragma)

    @event.listens_for(engine, "begin")
    def _begun(connection: Connection) -> None:
        writes = connection.get_execution_options().get(_WRITES, False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _pragma(connection: Any, pragma: str) -> None:
    """A file that may not be written can still be read: it stays in the mode it is in."""
    try:
        connection.execute(f"PRAGMA {pragma}")
    except sqlite3.OperationalError as error:
        if "readonly" not in str(error) and "read-only" not in str(error):
            raise


def _postgresql(url: URL) -> Engine:
    engine = create_engine(url, pool_size=10, max_overflow=20, pool_pre_ping=True)

    @event.listens_for(engine, "connect")
    def _connected(connection: Any, _record: Any) -> None:
        with connection.cursor() as cursor:
            cursor.execute("SET synchronous_commit = on")
            cursor.execute("SET TIME ZONE 'UTC'")
            cursor.execute("SET lock_timeout = '20s'")
        connection.commit()

    return engine
