"""A copy of the whole record beside it, taken while people work on."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path
from typing import Any

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.store.connect import explained, open_engine
from hoistwright.store.errors import StoreError
from hoistwright.store.lines import export_lines
from hoistwright.store.model import Head, Progress
from hoistwright.store.safe_file import on_disk
from hoistwright.store.sql_store import SqlStore
from hoistwright.store.verify import verify_store
from hoistwright.store.verify_lines import verify_lines

_PAGES = 2000


def backup(store: SqlStore, path: Path, *, progress: Progress | None = None) -> Head:
    """Copy the record to `path`, verify the copy, and put it in place.

    SQLite: a database that can be opened as it is. PostgreSQL: JSON lines, to be imported.
    Returns where the journal stood: write it down elsewhere, it proves the copy later.

    Raises FaultsError where it cannot be written, StoreError where the copy does not verify.
    """
    if store.engine.dialect.name == "sqlite":
        return _copied(store, path, progress)
    stands = store.head()
    export_lines(store, path, progress=progress)
    _refuse(verify_lines(path, noted=stands), path)
    return stands


def _copied(store: SqlStore, path: Path, progress: Progress | None) -> Head:
    beside = path.with_name(path.name + ".part")
    beside.unlink(missing_ok=True)
    try:
        _copy(store, beside, progress)
        engine = open_engine(beside)
        try:
            _refuse(verify_store(engine, None, None), path)
            stands = SqlStore(engine).head()
        finally:
            engine.dispose()
        _sync(beside)
        beside.replace(path)
        on_disk(path.parent)
    except OSError as error:
        place = Place(file=str(path))
        said = error.strerror or str(error)
        raise FaultsError([Fault(place, said, "a place with room that can be written")]) from None
    except sqlite3.Error as error:
        raise explained(error) from None
    finally:
        for name in (beside.name, beside.name + "-wal", beside.name + "-shm"):
            path.with_name(name).unlink(missing_ok=True)
    return stands


def _copy(store: SqlStore, beside: Path, progress: Progress | None) -> None:
    def told(_status: int, left: int, total: int) -> None:
        if progress is not None:
            progress(total - left, total)

    with store.engine.connect() as connection:
        source: Any = connection.connection.dbapi_connection
        copy = sqlite3.connect(beside)
        try:
            source.backup(copy, pages=_PAGES, progress=told, sleep=0.01)
            copy.execute("PRAGMA journal_mode = DELETE")  # one file, nothing beside it
        finally:
            copy.close()


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _refuse(damages: object, path: Path) -> None:
    if damages:
        raise StoreError(f"The copy at {path} does not verify and was not kept: {damages}")
