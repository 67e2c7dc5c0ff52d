"""Private addresses of the returns calendar: whoever has one may read it; only hashes are kept."""

from __future__ import annotations

import datetime
import secrets

import attrs
from sqlalchemy import Connection, delete, insert, select

from hoistwright.web.records.tables import calendars
from hoistwright.web.security.secrets import digest


@attrs.frozen(kw_only=True)
class CalendarAddress:
    """Who made it, for which customer (empty: all), in which language."""

    token_hash: str
    person: str
    customer: str
    language: str
    made_at: str


def new_calendar(
    conn: Connection, person: str, customer: str, language: str, now: datetime.datetime
) -> str:
    """A new address of a person for a customer; an earlier one of the same two is void."""
    token = secrets.token_urlsafe(32)
    end_calendar(conn, person, customer)
    conn.execute(
        insert(calendars).values(
            token_hash=digest(token), person=person, customer=customer, language=language,
            made_at=now.isoformat(),
        )
    )  # fmt: skip
    return token


def end_calendar(conn: Connection, person: str, customer: str) -> None:
    """From now on the address answers nothing."""
    conn.execute(
        delete(calendars).where(calendars.c.person == person, calendars.c.customer == customer)
    )


def calendar_of(conn: Connection, token: str) -> CalendarAddress | None:
    """What an address is for; None where it is unknown or void."""
    asked = select(calendars).where(calendars.c.token_hash == digest(token))
    row = conn.execute(asked).mappings().one_or_none()
    return CalendarAddress(**row) if row else None


def calendars_of(conn: Connection, person: str) -> tuple[CalendarAddress, ...]:
    """The addresses that a person made."""
    asked = select(calendars).where(calendars.c.person == person).order_by(calendars.c.customer)
    return tuple(CalendarAddress(**row) for row in conn.execute(asked).mappings())
