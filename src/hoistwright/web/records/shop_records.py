"""The shop as the bench keeps it: gauges, test weights and adoptions, first from a shop file."""

from __future__ import annotations

import datetime
import functools
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Literal

import attrs
from sqlalchemy import Connection, delete, func, insert, select

from hoistwright.basis.adoption import Adoption
from hoistwright.datafile import read_table, structure_table
from hoistwright.datafile.load import read_text
from hoistwright.job.shop import Person, Shop
from hoistwright.job.shop_file import FORMAT, shop_from_text
from hoistwright.web.records.accounts import Account, add_account, all_accounts
from hoistwright.web.records.prices import charges_table, import_prices, keep_charges
from hoistwright.web.records.settings import keep_setting, setting
from hoistwright.web.records.tables import shop_items

Kind = Literal["gauges", "test_weights", "adoptions"]
KINDS: tuple[Kind, ...] = ("gauges", "test_weights", "adoptions")
_DATES = ("calibrated_on", "due_on", "on")


def import_shop(conn: Connection, path: Path) -> Shop:
    """Take a shop file over: its people get accounts without a password. Raises FaultsError."""
    text = read_text(path)
    shop = shop_from_text(text, file=str(path))
    table = read_table(text, file=str(path))
    keep_setting(conn, "shop name", shop.name)
    keep_setting(conn, "shop address", shop.address)
    known = {account.key for account in all_accounts(conn)}
    for person in shop.people:
        if person.key not in known:
            add_account(
                conn,
                Account(
                    key=person.key,
                    name=person.name,
                    roles=person.roles,
                    qualification=person.qualification,
                ),
            )
    for kind in KINDS:
        for place, body in enumerate(table.get(kind, ())):
            keep_item(conn, kind, str(body.get("key", f"{place}")), body)
    keep_charges(conn, table.get("charges"))
    import_prices(conn, shop, path)
    return shop


def keep_item(conn: Connection, kind: Kind, key: str, body: Mapping[str, Any]) -> None:
    """Write a gauge, a test weight or an adoption, as a shop file's table."""
    where = (shop_items.c.kind == kind) & (shop_items.c.key == key)
    place = conn.execute(select(shop_items.c.place).where(where)).scalar()
    if place is None:
        last = select(func.max(shop_items.c.place)).where(shop_items.c.kind == kind)
        place = (conn.execute(last).scalar() or 0) + 1
    conn.execute(delete(shop_items).where(where))
    text = json.dumps(body, default=str, sort_keys=True)
    conn.execute(insert(shop_items).values(kind=kind, key=key, place=place, body=text))


def item(conn: Connection, kind: Kind, key: str) -> dict[str, Any] | None:
    """One gauge, test weight or adoption as a shop file's table."""
    where = (shop_items.c.kind == kind) & (shop_items.c.key == key)
    text = conn.execute(select(shop_items.c.body).where(where)).scalar()
    return None if text is None else dict(json.loads(text))


def keep_adoption(conn: Connection, adoption: Adoption) -> None:
    key = f"{adoption.basis} {adoption.digest} {adoption.by} {adoption.on}"
    keep_item(conn, "adoptions", key, attrs.asdict(adoption))


def shop_of(conn: Connection) -> Shop:
    """The shop as it is now, with its people, for the engines."""
    table: dict[str, Any] = {
        "format": FORMAT,
        "name": setting(conn, "shop name"),
        "address": setting(conn, "shop address"),
    }
    rows = conn.execute(select(shop_items).order_by(shop_items.c.kind, shop_items.c.place))
    for row in rows:
        table.setdefault(row.kind, []).append(json.loads(row.body))
    charges = charges_table(conn)
    if charges is not None:
        table["charges"] = charges
    people = tuple(account.person for account in all_accounts(conn) if account.active)
    return _shop(json.dumps(table, default=str), people)


@functools.lru_cache(maxsize=8)
def _shop(text: str, people: tuple[Person, ...]) -> Shop:
    """The same shop, and not only an equal one, as long as nothing in it changes."""
    table = json.loads(text)
    for kind in KINDS:
        table[kind] = [_dated(body) for body in table.get(kind, ())]
    return attrs.evolve(structure_table(table, Shop, file="", text=""), people=people)


def _dated(body: dict[str, Any]) -> dict[str, Any]:
    """Dates as a TOML file would give them."""
    return {
        key: datetime.date.fromisoformat(value) if key in _DATES and value else value
        for key, value in body.items()
    }
