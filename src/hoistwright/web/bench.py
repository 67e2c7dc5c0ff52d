"""The bench as a whole: its database, its shop, its clock. Made once, at the start."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from pathlib import Path

import attrs
from sqlalchemy import Engine

from hoistwright.store.connect import writing
from hoistwright.store.sql_store import SqlStore
from hoistwright.web.kept import Kept
from hoistwright.web.records.settings import setting, signing_key
from hoistwright.web.security.tokens import Tokens


def _now() -> datetime.datetime:
    return datetime.datetime.now(datetime.UTC)


@attrs.frozen(kw_only=True)
class Bench:
    """What every page can reach."""

    store: SqlStore
    """The journal and its tables; the bench's own tables are in the same database."""
    tokens: Tokens
    demo: bool
    designs_folder: Path
    """Where design files of the shop's own are laid out to be read; the database keeps them."""
    now: Callable[[], datetime.datetime] = _now
    kept: Kept = attrs.field(factory=Kept, repr=False)
    keys_folder: Path | None = None
    """Where the shop's signing keys are; None where the bench was told of none."""
    keys_passphrase: str = attrs.field(default="", repr=False)
    """Opens the shop's key for codes; empty: asked for at each signing."""

    @property
    def engine(self) -> Engine:
        return self.store.engine

    @property
    def today(self) -> datetime.date:
        """The day at the bench, by its own clock."""
        return self.now().astimezone().date()

    @property
    def shop_name(self) -> str:
        return self.kept.get(self.engine, "shop name", lambda conn: setting(conn, "shop name"))


def open_bench(
    store: SqlStore,
    *,
    designs_folder: Path,
    demo: bool = False,
    now: Callable[[], datetime.datetime] = _now,
    keys_folder: Path | None = None,
    keys_passphrase: str = "",
) -> Bench:
    """A bench on a database."""
    with writing(store.engine) as conn:
        key = signing_key(conn)
    return Bench(
        store=store,
        tokens=Tokens(key),
        demo=demo,
        designs_folder=designs_folder,
        now=now,
        keys_folder=keys_folder,
        keys_passphrase=keys_passphrase,
    )
