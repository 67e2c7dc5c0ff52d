"""Design files of the shop's own: begun at the bench, kept in the database."""

from __future__ import annotations

import datetime

from sqlalchemy import Connection, delete, insert, select

from hoistwright.web.records.tables import designs


def own_texts(conn: Connection) -> dict[str, str]:
    """Text of each design file by its name, which ends in `.toml`."""
    rows = conn.execute(select(designs.c.key, designs.c.text))
    return {row.key: row.text for row in rows}


def keep_design(conn: Connection, name: str, text: str, *, by: str, at: datetime.datetime) -> None:
    """Write a design file, over the one of the same name."""
    conn.execute(delete(designs).where(designs.c.key == name))
    conn.execute(insert(designs).values(key=name, text=text, by=by, at=at.isoformat()))
