"""A really full and a really read-only disk: a small file system in memory. Needs root."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from scratch_postgresql import ScratchServer

from hoistwright.job.entry import Draft
from hoistwright.job.events import ReadingEntered
from hoistwright.store.errors import FullError, StoreError
from hoistwright.store.sql_store import open_store


@contextmanager
def small_disk(megabytes: int) -> Iterator[Path]:
    """A folder on a file system of its own."""
    folder = Path(tempfile.mkdtemp(prefix="hoistwright-disk-"))
    options = f"size={megabytes}m,mode=0777"
    subprocess.run(["mount", "-t", "tmpfs", "-o", options, "tmpfs", folder], check=True)
    try:
        yield folder
    finally:
        subprocess.run(["umount", "-l", folder], check=True)
        folder.rmdir()


def full_sqlite() -> str:
    """Enter until the disk is full, make room, go on: what was said and whether all is there."""
    with small_disk(2) as folder:
        return _filled(str(folder / "shop.db"), lambda: _remount(folder, "size=16m"))


def read_only_sqlite() -> str:
    """A disk that turns read-only under a running bench, and back."""
    with small_disk(16) as folder:
        store = open_store(folder / "shop.db")
        acknowledged = [_enter(store, at) for at in range(20)]
        store.close()
        _remount(folder, "ro")
        try:
            store = open_store(folder / "shop.db")
            _enter(store, 20)
            said = "nothing: it was entered"
        except StoreError as error:
            said = str(error)
        finally:
            store.close()
        _remount(folder, "rw")
        return _told(str(folder / "shop.db"), said, acknowledged)


def full_postgresql(server: ScratchServer) -> str:
    """The tables on a small disk of the server."""
    import psycopg

    with small_disk(4) as folder:
        place = folder / "tables"
        place.mkdir()
        shutil.chown(place, "postgres", "postgres")
        with psycopg.connect(server.address(), autocommit=True) as connection:
            connection.execute(f"CREATE TABLESPACE small LOCATION '{place}'".encode())
        address = server.fresh() + "%20-cdefault_tablespace%3Dsmall"
        told = _filled(address, lambda: _remount(folder, "size=64m"))
        with psycopg.connect(server.address(), autocommit=True) as connection:
            schema = address.partition("search_path%3D")[2].partition("%20")[0]
            connection.execute(f"DROP SCHEMA {schema} CASCADE".encode())
            connection.execute(b"DROP TABLESPACE small")
        return told


def _filled(address: str, more_room: object) -> str:
    assert callable(more_room)
    store = open_store(address)
    acknowledged: list[str] = []
    said = "never full"
    try:
        for at in range(50_000):
            acknowledged.append(_enter(store, at))
    except FullError as error:
        said = str(error)
    more_room()
    acknowledged.append(_enter(store, 0))
    store.close()
    return _told(address, said, acknowledged)


def _enter(store: object, at: int) -> str:
    from hoistwright.store.sql_store import SqlStore

    assert isinstance(store, SqlStore)
    body = ReadingEntered(
        part="load_chain",
        feature="load_chain.link_pitch",
        place=f"section {at}",
        values=(0.024,),
        unit="mm",
        remark="a remark of some length " * 20,
    )
    one = Draft(body=body, by="odile")
    store.append("KQ-1", [one])
    return one.id


def _told(address: str, said: str, acknowledged: list[str]) -> str:
    store = open_store(address)
    have = {event.id for event in store.events("KQ-1")}
    lost = sum(one not in have for one in acknowledged)
    sound = not store.verify() and not store.compare()
    store.close()
    state = "journal and tables sound" if sound else "DAMAGED"
    return f"{len(acknowledged)} acknowledged, {lost} lost, {state}; it said: {said}"


def _remount(folder: Path, option: str) -> None:
    subprocess.run(["mount", "-o", f"remount,{option}", folder], check=True)
