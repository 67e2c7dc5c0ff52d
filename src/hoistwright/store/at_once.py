"""PostgreSQL: an entry, both chains and the rows of the made tables in one statement.

The head is taken first, as everywhere, so that no two of them wait for each other. Where the job
does not stand where it is thought to, nothing has a number, which the journal refuses: then
nothing is done at all.
"""

from __future__ import annotations

import functools

from sqlalchemy import Table
from sqlalchemy.dialects import postgresql

_ENTRY = """
WITH at AS (
    UPDATE head SET number = number + 1,
        chain = encode(sha256(convert_to(chain || %(hash)s::text, 'UTF8')), 'hex')
    WHERE one = 1 RETURNING number, chain
), moved AS (
    UPDATE job_heads AS j SET seq = %(seq)s::integer, hash = %(hash)s::text FROM at
    WHERE j.job = %(job)s::text AND j.seq = %(old_seq)s::integer AND j.hash = %(old_hash)s::text
    RETURNING at.number, at.chain
){rows}
INSERT INTO journal (number, id, job, seq, entry, hash, chain)
SELECT (SELECT number FROM moved), %(id)s, %(job)s, %(seq)s::integer, %(entry)s, %(hash)s,
    (SELECT chain FROM moved)
RETURNING number, chain
"""
_ROW = """, put_{table} AS (
    INSERT INTO {table} ({names}) SELECT {values} FROM moved
    ON CONFLICT ({keys}) DO UPDATE SET {rest}
)"""


_SET = """, put_{table} AS (
    UPDATE {table} SET {values} FROM moved WHERE {table}.{key} = {wanted}
)"""

Columns = tuple[str, ...]


@functools.cache
def all_at_once(rows: tuple[tuple[Table, Columns], ...]) -> str:
    """The statement that also puts one row into each of these tables.

    A row without some of the columns is one that is there and keeps them.
    """
    return _ENTRY.format(rows="".join(_row(table, names) for table, names in rows))


def _row(table: Table, names: Columns) -> str:
    keys = [column.name for column in table.primary_key]
    rest = [name for name in names if name not in keys]
    if len(names) < len(table.columns):
        values = ", ".join(f"{name} = {_value(table, name)}" for name in rest)
        wanted = _value(table, keys[0])
        return _SET.format(table=table.name, values=values, key=keys[0], wanted=wanted)
    return _ROW.format(
        table=table.name,
        names=", ".join(names),
        values=", ".join(_value(table, name) for name in names),
        keys=", ".join(keys),
        rest=", ".join(f"{name} = excluded.{name}" for name in rest),
    )


def _value(table: Table, name: str) -> str:
    """A mark with its type, which PostgreSQL cannot tell by itself here."""
    dialect = postgresql.dialect()  # type: ignore[no-untyped-call]
    return f"%({table.name}_{name})s::{table.columns[name].type.compile(dialect)}"
