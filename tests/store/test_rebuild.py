"""The tables follow from the journal, whatever happened to them."""

from __future__ import annotations

import pytest
from record_helpers import booking, draft, look
from sqlalchemy import text

from hoistwright.job.events import Corrected
from hoistwright.store.sql_store import SqlStore

HARMS = [
    "UPDATE readings SET mean = mean * 2 WHERE job = 'KQ-1'",
    "DELETE FROM readings WHERE job = 'KQ-2'",
    "UPDATE jobs SET stage = 'rebuild'",
    "DELETE FROM jobs WHERE job = 'KQ-3'",
    "UPDATE hoists SET customer = 'somebody else'",
    "DELETE FROM hoist_words WHERE word = '2041'",
    "INSERT INTO hoist_words VALUES ('ghost', 'no/hoist')",
    "UPDATE looks SET answer = 'defect'",
    "INSERT INTO looks VALUES ('KQ-99', 'pawl', 'pawl.tip', '', 'x', 'in order', '', 'a', 'b', 1)",
]


@pytest.mark.parametrize("statement", HARMS)
def test_every_difference_is_reported_and_mended(filled: SqlStore, statement: str) -> None:
    filled.append("KQ-1", [draft(look())])
    assert filled.compare() == ()
    with filled.engine.connect() as connection, connection.begin():
        assert connection.execute(text(statement)).rowcount > 0
    table = next(word for word in statement.split() if word.islower())
    assert table in {difference.table for difference in filled.compare()}
    filled.rebuild()
    assert filled.compare() == ()
    assert filled.verify() == ()


def test_rebuilding_tells_how_far_it_is(filled: SqlStore) -> None:
    told: list[tuple[int, int]] = []
    filled.rebuild(progress=lambda done, total: told.append((done, total)))
    assert told == [(3, 3)]


def test_lists_are_the_same_after_rebuilding(filled: SqlStore) -> None:
    before = filled.jobs(), filled.waiting(), filled.search("ardle"), filled.job("KQ-2")
    filled.rebuild()
    assert (filled.jobs(), filled.waiting(), filled.search("ardle"), filled.job("KQ-2")) == before


def test_a_withdrawn_booking_leaves_a_hoist_that_no_word_finds(store: SqlStore) -> None:
    """A job must stay open to work though nothing is known of its hoist any more."""
    sent = store.append("KQ-1", [draft(booking(serial="A2-77", tag=""))]).events[0]
    assert store.search("A2-77")
    store.append("KQ-1", [draft(Corrected(corrects=sent.id))])
    assert not store.search("A2-77")
    assert store.compare() == ()
