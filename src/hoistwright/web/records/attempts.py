"""Failed attempts to sign in, by account and by address, to slow down guessing."""

from __future__ import annotations

import datetime

from sqlalchemy import Connection, delete, func, insert, select

from hoistwright.web.records.tables import attempts

WINDOW = datetime.timedelta(minutes=15)
MOST_BY_ACCOUNT = 5
MOST_BY_ADDRESS = 30


def too_many(conn: Connection, account: str, address: str, now: datetime.datetime) -> bool:
    """Whether this account or this address has failed too often of late."""
    since = (now - WINDOW).timestamp()
    recent = select(func.count()).select_from(attempts).where(attempts.c.at > since)
    of_account = conn.execute(recent.where(attempts.c.account == account)).scalar_one()
    of_address = conn.execute(recent.where(attempts.c.address == address)).scalar_one()
    return of_account >= MOST_BY_ACCOUNT or of_address >= MOST_BY_ADDRESS


def note_failure(conn: Connection, account: str, address: str, now: datetime.datetime) -> None:
    conn.execute(delete(attempts).where(attempts.c.at <= (now - WINDOW).timestamp()))
    conn.execute(insert(attempts).values(account=account[:80], address=address, at=now.timestamp()))


def forget_failures(conn: Connection, account: str) -> None:
    conn.execute(delete(attempts).where(attempts.c.account == account))
