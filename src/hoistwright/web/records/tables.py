"""The bench's own tables, in the same database as the journal, as SQLAlchemy sees them.

The steps in `store/migrations/` make them: a new table or column needs a step of its own there.
"""

from __future__ import annotations

from sqlalchemy import REAL, Column, Double, Index, Integer, MetaData, Table, Text

metadata = MetaData()
_real: Double[float] = Double().with_variant(REAL, "sqlite")


def _table(name: str, *columns: Column[str] | Column[int] | Column[float]) -> Table:
    return Table(name, metadata, *columns, sqlite_strict=True)


accounts = _table(
    "bench_account",
    Column("key", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("roles", Text, nullable=False),
    Column("qualification", Text, nullable=False, default=""),
    Column("language", Text, nullable=False, default="en"),
    Column("units", Text, nullable=False, default="mm"),
    Column("password", Text, nullable=False, default=""),
    Column("pin", Text, nullable=False, default=""),
    Column("active", Integer, nullable=False, default=1),
)

sessions = _table(
    "bench_session",
    Column("id_hash", Text, primary_key=True),
    Column("person", Text, nullable=False),
    Column("opened_by", Text, nullable=False),
    Column("opened_at", Text, nullable=False),
    Column("used_at", Text, nullable=False),
)

invitations = _table(
    "bench_invitation",
    Column("token_hash", Text, primary_key=True),
    Column("person", Text, nullable=False),
    Column("expires_at", Text, nullable=False),
    Column("used", Integer, nullable=False, default=0),
)

attempts = _table(
    "bench_attempt",
    Column("id", Integer, primary_key=True, autoincrement=True),
    Column("account", Text, nullable=False),
    Column("address", Text, nullable=False),
    Column("at", _real, nullable=False),
)
Index("bench_attempt_at", attempts.c.at)

settings = _table(
    "bench_setting",
    Column("key", Text, primary_key=True),
    Column("value", Text, nullable=False),
)

shop_items = _table(
    "bench_shop_item",
    Column("kind", Text, primary_key=True),
    Column("key", Text, primary_key=True),
    Column("place", Integer, nullable=False),
    Column("body", Text, nullable=False),
)
"""Gauges, test weights and adoptions, each as the table of a shop file, in JSON."""

designs = _table(
    "bench_design",
    Column("key", Text, primary_key=True),
    Column("text", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("at", Text, nullable=False),
)

price_lists = _table(
    "bench_price_list",
    Column("id", Integer, primary_key=True, autoincrement=True),
    Column("at", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("name", Text, nullable=False),
    Column("digest", Text, nullable=False),
    Column("body", Text, nullable=False),
)
"""Price and stock lists as they were taken over; the last one counts."""


calendars = _table(
    "bench_calendar",
    Column("token_hash", Text, primary_key=True),
    Column("person", Text, nullable=False),
    Column("customer", Text, nullable=False),
    Column("language", Text, nullable=False),
    Column("made_at", Text, nullable=False),
)
"""Private addresses at which a calendar programme fetches what is due."""

bases = _table(
    "bench_basis",
    Column("digest", Text, primary_key=True),
    Column("key", Text, nullable=False),
    Column("files", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("at", Text, nullable=False),
)
"""Bases of the shop's own: the texts of their files by name, in JSON."""

fleet_visits = _table(
    "bench_fleet_visit",
    Column("job", Text, primary_key=True),
    Column("seq", Integer, nullable=False),
    Column("made_of", Text, nullable=False),
    Column("body", Text, nullable=False),
)
"""What each job tells the fleet, as of an entry of it. Made of the journal; may be thrown away."""
