"""Flipped bits in the files themselves: of an export, and of an SQLite database."""

from __future__ import annotations

import json
import random
import shutil
from pathlib import Path

from rich.progress import track
from sqlalchemy import select

from hoistwright.store.backup import backup
from hoistwright.store.connect import open_engine, reading
from hoistwright.store.errors import StoreError
from hoistwright.store.lines import export_lines
from hoistwright.store.sql_store import SqlStore, open_store
from hoistwright.store.tables import metadata
from hoistwright.store.verify_lines import verify_lines


def harm_export(store: SqlStore, folder: Path, count: int) -> bool:
    """Single bits of an export; an entry's line must be named by job and entry."""
    rng, path, bad = random.Random(5), folder / "shop.jsonl", folder / "bad.jsonl"
    export_lines(store, path)
    data = path.read_bytes()
    found = entries = named = 0
    for _ in track(range(count), "Export: flipped bits"):
        at = rng.randrange(len(data))
        bad.write_bytes(data[:at] + bytes([data[at] ^ 1 << rng.randrange(8)]) + data[at + 1 :])
        damages = verify_lines(bad)
        found += bool(damages)
        start = data.rfind(b"\n", 0, at) + 1
        line = json.loads(data[start : data.find(b"\n", start)])
        if "entry" in line:
            entries += 1
            hit = line["entry"]["job"], line["entry"]["seq"]
            named += any((d.job, d.seq) == hit for d in damages)
    print(
        f"Export: {count} flipped bits, {found} found; {entries} of them in entries, {named} with "
        "job and entry named"
    )
    return found == count and named == entries


def harm_file(store: SqlStore, folder: Path, count: int) -> bool:
    """Single bits anywhere in an SQLite file: found, or without any effect on what is in it."""
    rng, path, bad = random.Random(6), folder / "whole.db", folder / "bad.db"
    backup(store, path)
    data, content = path.read_bytes(), _content(path)
    found = harmless = 0
    for _ in track(range(count), "SQLite file: flipped bits"):
        at = rng.randrange(len(data))
        bad.write_bytes(data[:at] + bytes([data[at] ^ 1 << rng.randrange(8)]) + data[at + 1 :])
        if complains(bad):
            found += 1
        elif _content(bad) == content:
            harmless += 1
        for beside in folder.glob("bad.db-*"):
            beside.unlink()
    missed = count - found - harmless
    print(
        f"SQLite file: {count} flipped bits, {found} found, {harmless} in bytes that hold "
        f"nothing, {missed} missed"
    )
    shutil.rmtree(bad, ignore_errors=True)
    return missed == 0


def complains(path: Path) -> bool:
    """Whether opening, verifying or comparing the record at `path` finds anything wrong."""
    try:
        store = open_store(path)
    except StoreError:
        return True
    try:
        return bool(store.verify() or store.compare())
    except StoreError:
        return True
    finally:
        store.close()


def _content(path: Path) -> list[object]:
    """Every row of every table."""
    engine = open_engine(path)
    try:
        with reading(engine) as connection:
            return [
                sorted(map(repr, connection.execute(select(table)).all()))
                for table in metadata.sorted_tables
            ]
    except StoreError:
        return []
    finally:
        engine.dispose()
