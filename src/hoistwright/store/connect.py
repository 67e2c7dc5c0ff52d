"""Opening the database: SQLite or PostgreSQL, each so that an acknowledged entry is on disk."""

from __future__ import annotations

import select
import sqlite3
import threading
import time
import weakref
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import (
    DatabaseError,
    DBAPIError,
    DisconnectionError,
    InterfaceError,
    OperationalError,
)

from hoistwright.store.errors import (
    AwayError,
    FullError,
    JournalError,
    ReadOnlyError,
    StoreError,
)

BUSY_MILLISECONDS = 20_000
LONGEST_LOG = 4_000
"""Pages of SQLite's log after which an entry itself takes it into the file; see `checkpoint`."""
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
    with _told(), _in_turn(engine), engine.connect() as plain:
        connection = plain.execution_options(**{_WRITES: True})
        with connection.begin():
            yield connection
        with _COUNTING:
            _CHANGES[engine] = changes(engine) + 1


def checkpoint(engine: Engine) -> None:
    """Take SQLite's log into its file, without making anybody wait. Nothing on PostgreSQL."""
    if engine.dialect.name == "sqlite":
        with _told(), engine.connect() as plain:
            plain.exec_driver_sql("PRAGMA wal_checkpoint(PASSIVE)")


_CHANGES: weakref.WeakKeyDictionary[Engine, int] = weakref.WeakKeyDictionary()
_COUNTING = threading.Lock()


def changes(engine: Engine) -> int:
    """How often this program has written, other than by `direct`. For what is kept in memory."""
    return _CHANGES.get(engine, 0)


@contextmanager
def direct(engine: Engine) -> Iterator[Any]:
    """The driver's own connection, for a transaction that says itself when it begins and ends.

    Anything it has not committed when the block ends is taken back. Raises StoreError for
    what SQLite says; what another driver says is for the caller to put into words.
    """
    with _told(), _in_turn(engine):
        pooled = engine.raw_connection()
        connection: Any = pooled.dbapi_connection
        try:
            yield connection
        finally:
            try:
                connection.rollback()  # does nothing where all was committed
            except Exception:
                pooled.invalidate()
            else:
                pooled.close()


_TURNS: weakref.WeakKeyDictionary[Engine, threading.Lock] = weakref.WeakKeyDictionary()


@contextmanager
def _in_turn(engine: Engine) -> Iterator[None]:
    """SQLite has one writer at a time. Those of this program wait in a queue, not by trying."""
    if engine.dialect.name != "sqlite":
        yield
        return
    turn = _TURNS.setdefault(engine, threading.Lock())
    if not turn.acquire(timeout=BUSY_MILLISECONDS / 1000):
        raise AwayError(f"The record was busy for too long. {_SAFE} Send it again.")
    try:
        yield
    finally:
        turn.release()


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
    kind = type(original).__name__
    said = " ".join(str(original).split())
    state = getattr(original, "sqlstate", None) or ""
    for cls, states, words, sentence in _MEANINGS:
        if state in states or any(word in said.casefold() for word in words):
            return cls(sentence.format(said=said))
    if kind in ("OperationalError", "InterfaceError") or state[:2] in ("08", "57"):
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
            f"wal_autocheckpoint = {LONGEST_LOG}",
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
    engine = create_engine(url, pool_size=10, max_overflow=20)

    @event.listens_for(engine, "connect")
    def _connected(connection: Any, _record: Any) -> None:
        with connection.cursor() as cursor:
            cursor.execute("SET synchronous_commit = on")
            cursor.execute("SET TIME ZONE 'UTC'")
            cursor.execute("SET lock_timeout = '20s'")
        connection.commit()

    @event.listens_for(engine, "checkout")
    def _taken(connection: Any, record: Any, _proxy: Any) -> None:
        if not _alive(connection, time.monotonic() - record.info.get("back", 0.0)):
            raise DisconnectionError  # the pool tries with a new one

    @event.listens_for(engine, "checkin")
    def _back(_connection: Any, record: Any) -> None:
        record.info["back"] = time.monotonic()

    return engine


_IDLE = 5.0
"""Seconds after which a connection is asked whether it is still there."""


def _alive(connection: Any, idle: float) -> bool:
    """Whether a connection can be used. A server that went has closed it: its line can be read.

    One not used for a while is asked, which costs a round trip.
    """
    try:
        line = select.poll()
        line.register(connection.fileno(), select.POLLIN)
        if idle < _IDLE and not line.poll(0):
            return True
        connection.execute("SELECT 1")
        connection.rollback()
    except Exception:
        return False
    return True
