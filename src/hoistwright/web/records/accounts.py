"""People who may sign in: their roles, their language and units, their hashed secrets."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Literal

import attrs
from sqlalchemy import Connection, Row, insert, select, update

from hoistwright.job.shop import Person, Role
from hoistwright.web.records.tables import accounts

AccountRole = Role | Literal["administrator"]
ROLES: tuple[AccountRole, ...] = (
    "technician",
    "competent person",
    "counter",
    "read-only",
    "administrator",
)


@attrs.frozen(kw_only=True)
class Account:
    """A person with an account. Without a password nobody can sign in as them."""

    key: str
    name: str
    roles: tuple[AccountRole, ...]
    qualification: str = ""
    language: str = "en"
    units: Literal["mm", "in"] = "mm"
    password: str = attrs.field(default="", repr=False)
    pin: str = attrs.field(default="", repr=False)
    active: bool = True

    @property
    def person(self) -> Person:
        """The person as a shop file knows them; to administer is no role there."""
        roles = tuple(role for role in self.roles if role != "administrator")
        return Person(key=self.key, name=self.name, roles=roles, qualification=self.qualification)


def find_account(conn: Connection, key: str) -> Account | None:
    row = conn.execute(select(accounts).where(accounts.c.key == key)).first()
    return _account(row) if row else None


def all_accounts(conn: Connection) -> tuple[Account, ...]:
    """Everybody, in order of their names."""
    rows = conn.execute(select(accounts).order_by(accounts.c.name, accounts.c.key))
    return tuple(_account(row) for row in rows)


def add_account(conn: Connection, account: Account) -> None:
    conn.execute(insert(accounts).values(**_values(account)))


def change_account(conn: Connection, account: Account) -> None:
    """Write an account over the one with the same key."""
    conn.execute(update(accounts).where(accounts.c.key == account.key).values(**_values(account)))


def administrators(people: Sequence[Account]) -> tuple[Account, ...]:
    """Those who can sign in and administer."""
    return tuple(p for p in people if p.active and p.password and "administrator" in p.roles)


def _values(account: Account) -> dict[str, object]:
    values = attrs.asdict(account)
    return values | {"roles": json.dumps(account.roles), "active": int(account.active)}


def _account(row: Row[tuple[object, ...]]) -> Account:
    values = dict(row._mapping)
    values["roles"] = tuple(json.loads(values["roles"]))
    values["active"] = bool(values["active"])
    return Account(**values)
