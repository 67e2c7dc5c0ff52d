"""Sessions: who is at which tablet. Only the hash of a session's id is kept."""

from __future__ import annotations

import datetime
import secrets

import attrs
from sqlalchemy import Connection, delete, insert, select, update

from hoistwright.web.records.tables import sessions
from hoistwright.web.security.secrets import digest

IDLE = datetime.timedelta(hours=12)
"""A session not used for so long is over."""
NOTED = datetime.timedelta(minutes=5)
"""Use is written down no oftener than this."""


@attrs.frozen(kw_only=True)
class Session:
    """`opened_by` gave a password at `opened_at`; `person` is at the tablet now."""

    id: str = attrs.field(repr=False)
    person: str
    opened_by: str
    opened_at: datetime.datetime
    used_at: datetime.datetime

    def may_change_by_pin(self, now: datetime.datetime) -> bool:
        """A PIN is enough only on a tablet that was opened with a password the same day."""
        return self.opened_at.astimezone().date() == now.astimezone().date()

    @property
    def by_password(self) -> bool:
        """True where the person at the tablet gave the password, not a PIN."""
        return self.person == self.opened_by


def open_session(conn: Connection, person: str, now: datetime.datetime) -> Session:
    """A new session of somebody who gave a password. Sessions long over are cleared away."""
    conn.execute(delete(sessions).where(sessions.c.used_at < (now - IDLE).isoformat()))
    return _write(conn, Session(id=_new(), person=person, opened_by=person, opened_at=now,
                                used_at=now))  # fmt: skip


def change_person(
    conn: Connection, session: Session, person: str, now: datetime.datetime
) -> Session:
    """The tablet in another person's hands, under a new id."""
    end_session(conn, session)
    return _write(conn, attrs.evolve(session, id=_new(), person=person, used_at=now))


def find_session(conn: Connection, id_: str, now: datetime.datetime) -> Session | None:
    """The session with this id, unless it is over."""
    where = sessions.c.id_hash == digest(id_)
    row = conn.execute(select(sessions).where(where)).first()
    if row is None:
        return None
    used = datetime.datetime.fromisoformat(row.used_at)
    if now - used > IDLE:
        return None
    return Session(
        id=id_,
        person=row.person,
        opened_by=row.opened_by,
        opened_at=datetime.datetime.fromisoformat(row.opened_at),
        used_at=used,
    )


def note_use(conn: Connection, session: Session, now: datetime.datetime) -> None:
    conn.execute(
        update(sessions)
        .where(sessions.c.id_hash == digest(session.id))
        .values(used_at=now.isoformat())
    )


def end_session(conn: Connection, session: Session) -> None:
    conn.execute(delete(sessions).where(sessions.c.id_hash == digest(session.id)))


def end_sessions_of(conn: Connection, person: str) -> None:
    """Sign a person out everywhere, also from tablets they opened for others."""
    conn.execute(
        delete(sessions).where((sessions.c.person == person) | (sessions.c.opened_by == person))
    )


def _new() -> str:
    """An id that cannot be taken for that of a visitor, which begins with v."""
    return "s" + secrets.token_urlsafe(32)


def _write(conn: Connection, session: Session) -> Session:
    conn.execute(
        insert(sessions).values(
            id_hash=digest(session.id),
            person=session.person,
            opened_by=session.opened_by,
            opened_at=session.opened_at.isoformat(),
            used_at=session.used_at.isoformat(),
        )
    )
    return session
