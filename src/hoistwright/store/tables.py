"""The tables as SQLAlchemy sees them. The migrations make them; a test holds the two together."""

from __future__ import annotations

from sqlalchemy import (
    REAL,
    BigInteger,
    Column,
    Double,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
)

metadata = MetaData()

_big = BigInteger().with_variant(Integer, "sqlite")
_real: Double[float] = Double().with_variant(REAL, "sqlite")


def _text(*names: str) -> list[Column[str]]:
    return [Column(name, Text, nullable=False) for name in names]


def _count(*names: str) -> list[Column[int]]:
    return [Column(name, Integer, nullable=False) for name in names]


journal = Table(
    "journal",
    metadata,
    Column("number", _big, primary_key=True, autoincrement=False),
    Column("id", Text, nullable=False, unique=True),
    *_text("job"),
    *_count("seq"),
    *_text("entry", "hash", "chain"),
)

head = Table(
    "head",
    metadata,
    Column("one", Integer, primary_key=True),
    Column("number", _big, nullable=False),
    *_text("chain"),
)

job_heads = Table(
    "job_heads", metadata, Column("job", Text, primary_key=True), *_count("seq"), *_text("hash")
)

attachments = Table(
    "attachments",
    metadata,
    Column("content", Text, primary_key=True),
    *_text("media_type"),
    *_count("size", "width", "height"),
    Column("data", LargeBinary, nullable=False),
)

jobs = Table(
    "jobs",
    metadata,
    Column("job", Text, primary_key=True),
    *_text("hoist", "maker", "model", "serial", "tag"),
    Column("rated_load", _real),
    *_text("customer", "premises", "design", "bases", "complaint", "received_on"),
    *_text("stage", "holder", "opened_at", "changed_at", "changed_by"),
    *_count("seq", "conflicts", "readings", "defects", "renewals", "photos"),
    *_text("decision", "certificate", "left_on", "next_due"),
)

hoists = Table(
    "hoists",
    metadata,
    Column("hoist", Text, primary_key=True),
    *_text("maker", "model", "serial", "tag"),
    Column("rated_load", _real),
    *_text("customer", "premises", "design", "last_job", "last_opened_at"),
    *_count("visits"),
    *_text("decision", "certificate", "left_on", "next_due"),
)

hoist_words = Table(
    "hoist_words",
    metadata,
    Column("word", Text, primary_key=True),
    Column("hoist", Text, primary_key=True),
)

readings = Table(
    "readings",
    metadata,
    Column("job", Text, primary_key=True),
    Column("part", Text, primary_key=True),
    Column("feature", Text, primary_key=True),
    Column("place", Text, primary_key=True),
    *_text("hoist"),
    Column("mean", _real, nullable=False),
    *_text("repeats", "unit", "gauge"),
    Column("links", Integer),
    *_text("person", "entered_at"),
    *_count("seq"),
)

looks = Table(
    "looks",
    metadata,
    Column("job", Text, primary_key=True),
    Column("part", Text, primary_key=True),
    Column("feature", Text, primary_key=True),
    Column("place", Text, primary_key=True),
    *_text("hoist", "answer", "remark", "person", "entered_at"),
    *_count("seq"),
)

MADE = (jobs, hoists, hoist_words, readings, looks)
"""The tables that are made from the journal."""
