"""One-time links: the first administrator, and people who choose their own password."""

from __future__ import annotations

import datetime
import secrets

from sqlalchemy import Connection, delete, insert, select, update

from hoistwright.web.records.tables import invitations
from hoistwright.web.security.secrets import digest

FIRST = ""
"""Stands for the person of the link that makes the first administrator."""
LASTS = datetime.timedelta(days=3)


def invite(conn: Connection, person: str, now: datetime.datetime) -> str:
    """A new one-time link for `person`; any earlier one is void. Only its hash is kept."""
    token = secrets.token_urlsafe(24)
    conn.execute(delete(invitations).where(invitations.c.person == person))
    conn.execute(
        insert(invitations).values(
            token_hash=digest(token), person=person, expires_at=(now + LASTS).isoformat(), used=0
        )
    )
    return token


def invited(conn: Connection, token: str, now: datetime.datetime) -> str | None:
    """The person a link is for; None where it is unknown, used or too old."""
    row = conn.execute(select(invitations).where(invitations.c.token_hash == digest(token))).first()
    if row is None or row.used or datetime.datetime.fromisoformat(row.expires_at) < now:
        return None
    return str(row.person)


def use_up(conn: Connection, token: str) -> bool:
    """Use a link up; False where somebody else was quicker."""
    done = conn.execute(
        update(invitations)
        .where(invitations.c.token_hash == digest(token), invitations.c.used == 0)
        .values(used=1)
    )
    return done.rowcount == 1
