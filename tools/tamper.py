"""Ways to harm a stored journal, each saying which entries it hit. For tests and figures.

Everything happens in a transaction that is rolled back afterwards.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import attrs
from sqlalchemy import Connection, Engine, text

from hoistwright.job.codec import canonical
from hoistwright.job.entry import BEGINNING, hash_of
from hoistwright.store.chain import Chains
from hoistwright.store.journal import chained
from hoistwright.store.model import Damage
from hoistwright.store.verify import verify_in

Hit = set[tuple[str, int]]
"""Job and entry."""


@attrs.frozen
class Line:
    number: int
    id: str
    job: str
    seq: int
    entry: str
    hash: str
    chain: str


@contextmanager
def unguarded(engine: Engine) -> Iterator[Connection]:
    """A transaction in which the journal may be changed; undone at its end."""
    with engine.connect() as connection:
        transaction = connection.begin()
        for trigger in ("journal_keeps", "journal_stays"):
            on = " ON journal" if engine.dialect.name == "postgresql" else ""
            connection.exec_driver_sql(f"DROP TRIGGER {trigger}{on}")
        try:
            yield connection
        finally:
            transaction.rollback()


def lines(connection: Connection) -> list[Line]:
    """The journal as it stands."""
    rows = connection.execute(text("SELECT * FROM journal ORDER BY number")).mappings()
    return [Line(**row) for row in rows]


def harm(engine: Engine, name: str, rng: random.Random) -> tuple[Hit, list[Damage]] | None:
    """Do one harm and verify: what was hit and what was found. None where it did not come off."""
    with unguarded(engine) as connection:
        hit = HARMS[name](connection, lines(connection), rng)
        if not hit:
            return None
        return hit, verify_in(connection, Chains())


def named(hit: Hit, damages: list[Damage]) -> bool:
    """True where the verification names an entry that was hit."""
    return any((damage.job, damage.seq) in hit for damage in damages)


def flip_text(connection: Connection, have: list[Line], rng: random.Random) -> Hit:
    """One bit of one text of one line."""
    line = rng.choice(have)
    column = rng.choice(["id", "job", "entry", "entry", "entry", "hash", "chain"])
    old = getattr(line, column).encode()
    at, bit = rng.randrange(len(old)), 1 << rng.randrange(8)
    new = old[:at] + bytes([old[at] ^ bit]) + old[at + 1 :]
    if b"\0" in new:
        return set()
    if connection.dialect.name == "sqlite":
        value: Any = f"CAST(x'{new.hex()}' AS TEXT)"
        return _set(connection, line, f"{column} = {value}")
    try:
        return _set(connection, line, f"{column} = :new", new=new.decode())
    except UnicodeDecodeError:  # PostgreSQL holds no such text
        return set()


def flip_number(connection: Connection, have: list[Line], rng: random.Random) -> Hit:
    """One bit of the number of one line, in the journal or in its job."""
    line = rng.choice(have)
    column = rng.choice(["number", "seq"])
    return _set(connection, line, f"{column} = :new",
                new=getattr(line, column) ^ (1 << rng.randrange(20)))  # fmt: skip


def delete(connection: Connection, have: list[Line], rng: random.Random) -> Hit:
    """One line taken out."""
    line = rng.choice(have)
    connection.execute(text("DELETE FROM journal WHERE number = :n"), {"n": line.number})
    return {(line.job, line.seq)}


def swap(connection: Connection, have: list[Line], rng: random.Random) -> Hit:
    """Two lines change places, all that they say with them."""
    one, two = rng.sample(have, 2)
    _move(connection, one.number, -1)
    _move(connection, two.number, one.number)
    _move(connection, -1, two.number)
    return {(one.job, one.seq), (two.job, two.seq)}


def insert(connection: Connection, have: list[Line], rng: random.Random) -> Hit:
    """A forged entry at the end of a job, rightly hashed and chained."""
    model = rng.choice(have)
    last = max((line for line in have if line.job == model.job), key=lambda line: line.seq)
    table = json.loads(model.entry)
    table.update(id=f"forged-{rng.randrange(10**9)}", seq=last.seq + 1, before=last.hash)
    entry = canonical(table)
    row = {
        "number": have[-1].number + 1,
        "id": table["id"],
        "job": model.job,
        "seq": last.seq + 1,
        "entry": entry,
        "hash": hash_of(entry),
        "chain": chained(have[-1].chain, hash_of(entry)),
    }
    connection.execute(
        text("INSERT INTO journal VALUES (:number, :id, :job, :seq, :entry, :hash, :chain)"), row
    )
    return {(model.job, last.seq + 1)}


def rewrite(connection: Connection, have: list[Line], rng: random.Random) -> Hit:
    """Another person named in an entry, its hash made anew."""
    line = rng.choice(have)
    table = json.loads(line.entry)
    table["by"] = table["by"] + "x"
    entry = canonical(table)
    return _set(connection, line, "entry = :e, hash = :h", e=entry, h=hash_of(entry))


def rewrite_all(connection: Connection, have: list[Line], rng: random.Random) -> Hit:
    """The same, and the chain over all jobs made anew to its end, head included."""
    hit = rewrite(connection, have, rng)
    _rechain(connection)
    (job, seq), *_ = hit
    return {(job, seq), (job, seq + 1)}


def cut(connection: Connection, have: list[Line], rng: random.Random) -> Hit:
    """The last entries of one job taken out."""
    job = rng.choice(have).job
    own = [line for line in have if line.job == job]
    gone = own[-rng.randint(1, len(own)) :]
    for line in gone:
        connection.execute(text("DELETE FROM journal WHERE number = :n"), {"n": line.number})
    return {(line.job, line.seq) for line in gone}


def cut_with_heads(connection: Connection, have: list[Line], rng: random.Random) -> Hit:
    """The end of the whole journal taken out, and the heads set back to match."""
    keep = rng.randrange(len(have))
    gone = have[keep:]
    connection.execute(text("DELETE FROM journal WHERE number > :n"), {"n": keep})
    connection.execute(text("DELETE FROM job_heads"))
    ends = {line.job: line for line in have[:keep]}
    for line in ends.values():
        connection.execute(
            text("INSERT INTO job_heads VALUES (:job, :seq, :hash)"),
            {"job": line.job, "seq": line.seq, "hash": line.hash},
        )
    chain = have[keep - 1].chain if keep else BEGINNING
    connection.execute(text("UPDATE head SET number = :n, chain = :c"), {"n": keep, "c": chain})
    return {(line.job, line.seq) for line in gone}


def harm_head(connection: Connection, have: list[Line], rng: random.Random) -> Hit:
    """One bit of where the journal stands."""
    last = have[-1]
    if rng.random() < 0.5:
        new = last.number ^ (1 << rng.randrange(16))
        connection.execute(text("UPDATE head SET number = :n"), {"n": new})
    else:
        at = rng.randrange(64)
        new_chain = last.chain[:at] + chr(ord(last.chain[at]) ^ 1) + last.chain[at + 1 :]
        connection.execute(text("UPDATE head SET chain = :c"), {"c": new_chain})
    return {(last.job, last.seq), (last.job, last.seq + 1)}


def harm_job_head(connection: Connection, have: list[Line], rng: random.Random) -> Hit:
    """One bit of where a job stands."""
    job = rng.choice(have).job
    last = [line for line in have if line.job == job][-1]
    if rng.random() < 0.5:
        new = last.seq ^ (1 << rng.randrange(16))
        statement, values = "UPDATE job_heads SET seq = :v WHERE job = :j", {"v": new, "j": job}
    else:
        at = rng.randrange(64)
        new_hash = last.hash[:at] + chr(ord(last.hash[at]) ^ 1) + last.hash[at + 1 :]
        statement, values = (
            "UPDATE job_heads SET hash = :v WHERE job = :j",
            {"v": new_hash, "j": job},
        )
    connection.execute(text(statement), values)
    return {(job, seq) for seq in range(1, last.seq + 2)}


HARMS: dict[str, Callable[[Connection, list[Line], random.Random], Hit]] = {
    function.__name__: function
    for function in (
        flip_text,
        flip_number,
        delete,
        swap,
        insert,
        rewrite,
        rewrite_all,
        cut,
        cut_with_heads,
        harm_head,
        harm_job_head,
    )
}


def _set(connection: Connection, line: Line, what: str, **values: Any) -> Hit:
    from sqlalchemy.exc import IntegrityError

    point = connection.begin_nested()
    try:
        connection.execute(
            text(f"UPDATE journal SET {what} WHERE number = :number"),
            {**values, "number": line.number},
        )
    except IntegrityError:  # the database itself refuses two lines with one key
        point.rollback()
        return set()
    point.commit()
    return {(line.job, line.seq)}


def _move(connection: Connection, old: int, new: int) -> None:
    connection.execute(
        text("UPDATE journal SET number = :new WHERE number = :old"), {"new": new, "old": old}
    )


def _rechain(connection: Connection) -> None:
    chain = BEGINNING
    for line in lines(connection):
        chain = chained(chain, line.hash)
        connection.execute(
            text("UPDATE journal SET chain = :c WHERE number = :n"),
            {"c": chain, "n": line.number},
        )
    connection.execute(text("UPDATE head SET chain = :c"), {"c": chain})
