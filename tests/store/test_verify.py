"""A record that cannot lie: every harm done to it is found, with job and entry named."""

from __future__ import annotations

import random
from pathlib import Path

import attrs
import pytest
from file_harm import complains
from record_helpers import booking, draft, fill, reading
from sqlalchemy import text
from sqlalchemy.exc import DatabaseError
from tamper import HARMS, harm, lines, named, unguarded

from hoistwright.job.events import PhotoAttached
from hoistwright.store.backup import backup
from hoistwright.store.chain import Chains
from hoistwright.store.errors import JournalError
from hoistwright.store.lines import export_lines
from hoistwright.store.model import Head
from hoistwright.store.sql_store import SqlStore, open_store
from hoistwright.store.verify import verify_in
from hoistwright.store.verify_lines import verify_lines


def test_a_sound_journal_verifies(filled: SqlStore) -> None:
    assert filled.verify() == ()
    assert filled.verify(noted=filled.head()) == ()


def test_an_empty_journal_verifies(store: SqlStore) -> None:
    assert store.verify() == ()


@pytest.mark.parametrize("name", HARMS)
def test_every_harm_is_found_and_named(filled: SqlStore, name: str) -> None:
    rng, done = random.Random(name), 0
    for _ in range(12):
        result = harm(filled.engine, name, rng)
        if result is not None:
            hit, damages = result
            assert named(hit, damages), (name, hit, [str(damage) for damage in damages])
            done += 1
    assert done >= 6
    assert filled.verify() == ()


def test_a_flipped_bit_that_makes_a_text_something_else_is_found(tmp_path: Path) -> None:
    """In an SQLite row the kinds of its columns stand before their values; a text is odd there."""
    store = fill(open_store(tmp_path / "shop.db"))
    backup(store, tmp_path / "copy.db")
    data, event = (tmp_path / "copy.db").read_bytes(), store.events("KQ-1")[0]
    store.close()
    starts = data.index((event.id + "KQ-1").encode())
    for back in range(1, 12):
        at = starts - back
        bad = tmp_path / f"bad-{back}.db"
        bad.write_bytes(data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :])
        assert complains(bad), back


def test_all_of_a_cut_are_named(filled: SqlStore) -> None:
    with unguarded(filled.engine) as connection:
        gone = [line for line in lines(connection) if line.job == "KQ-2"][2:]
        for line in gone:
            connection.execute(text("DELETE FROM journal WHERE number = :n"), {"n": line.number})
        found = verify_in(connection, Chains())
    assert {("KQ-2", line.seq) for line in gone} <= {(d.job, d.seq) for d in found}


def test_a_sound_neighbour_is_not_blamed(filled: SqlStore) -> None:
    """One altered text: nothing else is named."""
    with unguarded(filled.engine) as connection:
        line = lines(connection)[6]
        connection.execute(
            text("UPDATE journal SET entry = replace(entry, 'tomasz', 'thomas') WHERE number = 7")
        )
        found = verify_in(connection, Chains())
    assert {(damage.job, damage.seq) for damage in found} == {(line.job, line.seq)}
    assert "was altered" in str(found[0])


def test_only_a_noted_head_shows_a_perfect_forgery(tmp_path: Path) -> None:
    """Who may write everything can write a whole other record: what was noted elsewhere tells."""
    one, two = open_store(tmp_path / "one.db"), open_store(tmp_path / "two.db")
    fill(one)
    fill(two, readings=3)
    noted = one.head()
    assert two.verify() == ()
    assert [d.harm for d in two.verify(noted=noted)] == ["cut off"]
    fill(two, jobs=0)
    two.append("KQ-9", [draft(booking()), *(draft(reading(f"section {n}")) for n in range(5))])
    assert two.verify() == ()
    assert any("noted elsewhere" in d.what for d in two.verify(noted=noted))
    one.close()
    two.close()


def test_the_database_itself_refuses_changes(filled: SqlStore) -> None:
    for statement in ("UPDATE journal SET job = 'x'", "DELETE FROM journal WHERE number = 1"):
        with (
            filled.engine.connect() as connection,
            pytest.raises(DatabaseError, match="only grows"),
        ):
            connection.execute(text(statement))


def test_reading_a_damaged_job_says_which_entry(filled: SqlStore, address: str) -> None:
    with filled.engine.connect() as connection, connection.begin():
        on = " ON journal" if filled.engine.dialect.name == "postgresql" else ""
        connection.exec_driver_sql(f"DROP TRIGGER journal_keeps{on}")
        connection.execute(text("UPDATE journal SET entry = replace(entry, '0.024', '0.029')"
                                " WHERE job = 'KQ-2' AND seq = 2"))  # fmt: skip
    fresh = open_store(address)
    with pytest.raises(JournalError, match="damaged at job KQ-2, entry 2"):
        fresh.state("KQ-2")
    with pytest.raises(JournalError, match="damaged at job KQ-2, entry 2"):
        fresh.append("KQ-2", [draft(reading())])
    assert fresh.state("KQ-1").seq == 5
    fresh.close()


def test_an_altered_or_lost_photo_is_named(store: SqlStore, photo: bytes) -> None:
    kept = store.attach(photo)
    body = PhotoAttached(content=kept.content, media_type=kept.media_type)
    store.append("KQ-1", [draft(booking()), draft(body)])
    assert store.verify() == ()
    with store.engine.connect() as connection, connection.begin():
        connection.execute(text("UPDATE attachments SET size = size + 1"))
    assert [(d.harm, d.job, d.seq) for d in store.verify()] == [("altered", "KQ-1", 2)]
    with store.engine.connect() as connection, connection.begin():
        connection.execute(text("DELETE FROM attachments"))
    assert [(d.harm, d.job, d.seq) for d in store.verify()] == [("missing", "KQ-1", 2)]


def test_every_flipped_bit_of_an_export_is_found(tmp_path: Path) -> None:
    store = open_store(tmp_path / "shop.db")
    fill(store)
    path, bad = tmp_path / "shop.jsonl", tmp_path / "bad.jsonl"
    export_lines(store, path)
    store.close()
    data = path.read_bytes()
    rng = random.Random(4)
    for _ in range(300):
        at = rng.randrange(len(data))
        flipped = bytes([data[at] ^ (1 << rng.randrange(8))])
        bad.write_bytes(data[:at] + flipped + data[at + 1 :])
        assert verify_lines(bad) != (), at
    assert verify_lines(path) == ()


@pytest.mark.parametrize("keep", [0.0, 0.3, 0.7, 0.99])
def test_a_cut_off_export_is_found(filled: SqlStore, tmp_path: Path, keep: float) -> None:
    path = tmp_path / "shop.jsonl"
    export_lines(filled, path)
    data = path.read_bytes()
    path.write_bytes(data[: int(len(data) * keep)])
    assert verify_lines(path) != ()


def test_an_export_proves_itself_against_a_noted_head(filled: SqlStore, tmp_path: Path) -> None:
    path, noted = tmp_path / "shop.jsonl", filled.head()
    export_lines(filled, path)
    assert verify_lines(path, noted=noted) == ()
    wrong = attrs.evolve(noted, chain="0" * 64)
    assert [d.number for d in verify_lines(path, noted=wrong)] == [noted.number]
    assert verify_lines(path, noted=Head(number=99, chain="")) != ()
