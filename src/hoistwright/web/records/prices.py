"""The shop's price list and charges as the bench keeps them. Every list taken over stays."""

from __future__ import annotations

import datetime
import functools
import hashlib
import json
from pathlib import Path
from typing import Any

import attrs
from sqlalchemy import Connection, insert, select

from hoistwright.job.shop import Shop
from hoistwright.pricing.kept import book_of, book_text
from hoistwright.pricing.known import shipped_parts
from hoistwright.pricing.read import read_prices
from hoistwright.renew.prices import PriceBook
from hoistwright.web.records.settings import keep_setting, setting
from hoistwright.web.records.tables import price_lists


@attrs.frozen(kw_only=True)
class KeptList:
    """The list in use: who took it over, when, from which file."""

    book: PriceBook
    number: int
    at: str
    by: str
    name: str


def keep_prices(
    conn: Connection, book: PriceBook, *, by: str, name: str, at: datetime.datetime
) -> None:
    """Take a list over. The one before stays in the table."""
    text = book_text(book)
    digest = hashlib.sha256(text.encode()).hexdigest()
    row = {"at": at.isoformat(), "by": by, "name": name[:200], "digest": digest, "body": text}
    conn.execute(insert(price_lists).values(**row))


def prices_kept(conn: Connection) -> KeptList:
    """The list in use; an empty one where none was ever taken over."""
    newest = select(price_lists).order_by(price_lists.c.id.desc()).limit(1)
    row = conn.execute(newest).mappings().one_or_none()
    if row is None:
        return KeptList(book=PriceBook(), number=0, at="", by="", name="")
    return KeptList(
        book=_book(row["body"]), number=row["id"], at=row["at"], by=row["by"], name=row["name"]
    )


@functools.lru_cache(maxsize=4)
def _book(text: str) -> PriceBook:
    return book_of(text)


def import_prices(conn: Connection, shop: Shop, path: Path) -> None:
    """Take over the list that a shop file at `path` names. Raises FaultsError."""
    if shop.charges is None or not shop.charges.price_list:
        return
    file = path.parent / shop.charges.price_list
    book = read_prices(file, currency=shop.charges.currency, known=shipped_parts())
    now = datetime.datetime.now(datetime.UTC)
    keep_prices(conn, book, by="", name=file.name, at=now)


def keep_charges(conn: Connection, table: dict[str, Any] | None) -> None:
    """Keep the charges as a shop file's table."""
    if table is not None:
        keep_setting(conn, "charges", json.dumps(table, sort_keys=True))


def charges_table(conn: Connection) -> dict[str, Any] | None:
    """The charges as a shop file's table; None where there are none."""
    text = setting(conn, "charges")
    return dict(json.loads(text)) if text else None
