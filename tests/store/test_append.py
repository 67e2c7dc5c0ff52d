"""Entering: once, in order, whole; by two people at once; and told plainly when it cannot be."""

from __future__ import annotations

import threading
from typing import Any

import attrs
import pytest
from record_helpers import booking, draft, look, reading

from hoistwright.faults import FaultsError
from hoistwright.job.events import BookedIn, Corrected, LookAnswered, ReadingEntered
from hoistwright.job.fold import fold
from hoistwright.job.job_sheet import HoistIdentity
from hoistwright.store.errors import ClashError
from hoistwright.store.sql_store import SqlStore, open_store


def test_an_entry_sent_twice_is_entered_once(store: SqlStore) -> None:
    """A tablet that lost its connection cannot know whether its entry arrived: it sends again."""
    sent = [draft(booking()), draft(reading())]
    first = store.append("KQ-1", sent)
    again = store.append("KQ-1", sent)
    assert [event.hash for event in again.events] == [event.hash for event in first.events]
    assert first.fresh == {each.id for each in sent}
    assert again.fresh == frozenset()
    assert store.head().number == 2


def test_part_of_a_batch_sent_before_enters_the_rest(store: SqlStore) -> None:
    first, second = draft(booking()), draft(reading())
    store.append("KQ-1", [first])
    done = store.append("KQ-1", [first, second])
    assert done.fresh == {second.id}
    assert [event.seq for event in done.events] == [1, 2]


@pytest.mark.parametrize("job", ["KQ-1", "KQ-2"])
def test_an_id_with_other_content_is_refused_and_nothing_entered(store: SqlStore, job: str) -> None:
    sent = draft(reading(value=0.0241))
    store.append("KQ-1", [sent])
    other = attrs.evolve(sent, body=reading(value=0.0251 if job == "KQ-1" else 0.0241))
    with pytest.raises(ClashError, match=f"The id {sent.id} is that of entry 1 of job KQ-1"):
        store.append(job, [draft(look()), other])
    assert store.head().number == 1


def test_a_whole_number_sent_is_the_same_entry_when_sent_again(store: SqlStore) -> None:
    sent = draft(reading(value=1))
    store.append("KQ-1", [sent])
    assert store.append("KQ-1", [sent]).fresh == frozenset()


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"by": " "}, "an event by nobody"),
        ({"id": "x"}, "the id 'x'"),
        ({"body": attrs.evolve(reading(), remark="half \ud800")}, r"U\+D800"),
        ({"body": attrs.evolve(reading(), remark="nil \0")}, r"U\+0000"),
        ({"body": Corrected(corrects="never-entered")}, "has no such entry"),
    ],
)
def test_what_no_journal_can_hold_is_refused_whole(
    store: SqlStore, change: dict[str, Any], told: str
) -> None:
    with pytest.raises(ValueError, match=told):
        store.append("KQ-1", [draft(booking()), attrs.evolve(draft(reading()), **change)])
    assert store.head().number == 0
    assert store.job("KQ-1") is None


@pytest.mark.parametrize("job", ["", " KQ", "KQ\n1", "x" * 81, "a\0b"])
def test_a_job_number_must_be_one(store: SqlStore, job: str) -> None:
    with pytest.raises(ValueError, match="the job number"):
        store.append(job, [draft(booking())])


def test_a_body_of_wrong_words_names_its_key(store: SqlStore) -> None:
    wrong = LookAnswered(part="pawl", feature="pawl.tip", answer="maybe")  # type: ignore[arg-type]
    with pytest.raises(FaultsError, match="key answer: read 'maybe'; expected one of"):
        store.append("KQ-1", [draft(wrong)])


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_no_reading_without_a_number(value: float) -> None:
    with pytest.raises(ValueError, match="no finite number"):
        reading(value=value)


def test_the_same_state_after_opening_again(address: str) -> None:
    store = open_store(address)
    store.append("KQ-1", [draft(booking()), draft(reading())])
    before = store.state("KQ-1")
    store.close()
    again = open_store(address)
    assert again.state("KQ-1") == before
    again.close()


def test_two_benches_on_one_record_see_each_other(address: str) -> None:
    one, two = open_store(address), open_store(address)
    one.append("KQ-1", [draft(booking())])
    two.append("KQ-1", [draft(reading(), by="tomasz")])
    one.append("KQ-1", [draft(look())])
    assert one.state("KQ-1") == two.state("KQ-1") == fold("KQ-1", two.events("KQ-1"))
    assert [event.by for event in two.events("KQ-1", after=1)] == ["tomasz", "odile"]
    one.close()
    two.close()


def test_many_at_once_lose_nothing(address: str) -> None:
    """Eight tablets, two programs, one job: every acknowledged entry is there, in one chain."""
    stores = [open_store(address), open_store(address)]
    stores[0].append("KQ-1", [draft(booking())])
    acknowledged: list[str] = []
    failed: list[Exception] = []

    def work(tablet: int) -> None:
        try:
            for at in range(12):
                one = draft(reading(f"section {at}", 0.02 + tablet / 1e4), by=f"tablet-{tablet}")
                acknowledged.extend(stores[tablet % 2].append("KQ-1", [one]).fresh)
        except Exception as error:  # told below: a thread's own error is not seen by pytest
            failed.append(error)

    threads = [threading.Thread(target=work, args=(tablet,)) for tablet in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    events = stores[1].events("KQ-1")
    assert len(acknowledged) == 96
    assert {event.id for event in events} >= set(acknowledged)
    assert [event.seq for event in events] == list(range(1, 98))
    assert stores[0].verify() == ()
    assert stores[0].compare() == ()
    for store in stores:
        store.close()


def test_since_follows_the_whole_journal_without_gaps(filled: SqlStore) -> None:
    entries = filled.since(0, limit=7) + filled.since(7)
    assert [entry.number for entry in entries] == list(range(1, filled.head().number + 1))
    assert {entry.event.job for entry in entries} == {"KQ-1", "KQ-2", "KQ-3"}


def test_a_corrected_booking_moves_the_hoist_in_the_register(store: SqlStore) -> None:
    sent = draft(booking(serial="A-2014"))
    store.append("KQ-1", [sent, draft(reading())])
    right = attrs.evolve(booking(), hoist=HoistIdentity(maker="Ardle", serial="A-2041"))
    store.append("KQ-1", [draft(Corrected(corrects=sent.id, replacement=right, reason="misread"))])
    assert store.search("2014") == ()
    assert [row.hoist for row in store.search("2041")] == ["ardle/a2041"]
    assert [row.job for row in store.earlier_readings("ardle/a2041")] == ["KQ-1"]
    assert store.compare() == ()


def test_a_withdrawn_reading_leaves_the_table_of_readings(store: SqlStore) -> None:
    one = draft(reading())
    store.append("KQ-1", [draft(booking()), one])
    store.append("KQ-1", [draft(Corrected(corrects=one.id, reason="wrong link"))])
    assert store.earlier_readings("ardle/a2041") == ()
    history = store.state("KQ-1").history(("reading", "load_chain", "load_chain.link_pitch",
                                           "section 1"))  # fmt: skip
    assert [entry.body for entry in history] == [None]
    assert isinstance(history[0].event.body, ReadingEntered)
    assert store.compare() == ()


def test_a_job_begun_without_booking_is_kept(store: SqlStore) -> None:
    """A tablet's booking may still be on its way when its first reading arrives."""
    store.append("KQ-1", [draft(reading())])
    store.append("KQ-1", [draft(booking())])
    row = store.job("KQ-1")
    assert row is not None
    assert row.hoist == "ardle/a2041"
    assert isinstance(store.state("KQ-1").booked, BookedIn)
    assert store.compare() == ()
