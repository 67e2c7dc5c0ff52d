"""A few texts that the bench keeps: its name, its signing key."""

from __future__ import annotations

import secrets

from sqlalchemy import Connection, select

from hoistwright.store.upsert import put
from hoistwright.web.records.tables import settings


def setting(conn: Connection, key: str) -> str:
    """The text kept under `key`; empty where there is none."""
    value = conn.execute(select(settings.c.value).where(settings.c.key == key)).scalar()
    return str(value or "")


def keep_setting(conn: Connection, key: str, value: str) -> None:
    put(conn, settings, [{"key": key, "value": value}])


def signing_key(conn: Connection) -> str:
    """The key that signs cookies and tokens; made at the first start."""
    found = setting(conn, "signing key")
    if not found:
        found = secrets.token_urlsafe(48)
        keep_setting(conn, "signing key", found)
    return found


def locked_setting(conn: Connection, key: str) -> str:
    """The text under `key`, held until the transaction ends: nobody else passes here meanwhile."""
    held = select(settings.c.value).where(settings.c.key == "signing key").with_for_update()
    conn.execute(held)
    return setting(conn, key)
