"""Bases of the shop's own: the texts of their files, kept in the database by their content."""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping

from sqlalchemy import Connection, delete, insert, select

from hoistwright.web.records.tables import bases

Files = Mapping[str, str]
"""The text of each file of a basis by its name."""


def own_files(conn: Connection) -> dict[str, dict[str, str]]:
    """The files of each basis as it was taken over last, by its key."""
    rows = conn.execute(select(bases.c.key, bases.c.files).order_by(bases.c.at, bases.c.digest))
    return {row.key: dict(json.loads(row.files)) for row in rows}


def keep_basis(
    conn: Connection, key: str, digest: str, files: Files, *, by: str, at: datetime.datetime
) -> None:
    """Write a basis down; one with the same content, taken over before, counts as the latest."""
    conn.execute(delete(bases).where(bases.c.digest == digest))
    text = json.dumps(dict(files), sort_keys=True)
    row = {"digest": digest, "key": key, "files": text, "by": by, "at": at.isoformat()}
    conn.execute(insert(bases), [row])
