"""A price list that was sent and looked through, but not yet taken over."""

from __future__ import annotations

import hashlib
import json

import attrs
from sqlalchemy import Connection

from hoistwright.pricing.kept import book_of, book_text
from hoistwright.renew.prices import PriceBook
from hoistwright.web.records.settings import keep_setting, setting

_KEY = "price list offered"


@attrs.frozen(kw_only=True)
class Offered:
    """`digest` names it, so that what is taken over is what was looked at."""

    book: PriceBook
    name: str
    digest: str


def keep_offered(conn: Connection, book: PriceBook, name: str) -> Offered:
    """Keep a list until it is taken over or another one is sent."""
    text = book_text(book)
    digest = hashlib.sha256(text.encode()).hexdigest()
    table = {"body": text, "name": name[:200], "digest": digest}
    keep_setting(conn, _KEY, json.dumps(table))
    return Offered(book=book, name=name[:200], digest=digest)


def offered(conn: Connection, digest: str) -> Offered | None:
    """The list that was looked at; None where it is gone or another one was sent since."""
    text = setting(conn, _KEY)
    table = json.loads(text) if text else {}
    if not digest or table.get("digest") != digest:
        return None
    return Offered(book=book_of(table["body"]), name=table["name"], digest=digest)


def drop_offered(conn: Connection) -> None:
    keep_setting(conn, _KEY, "")
