"""The quick way in: made from the state it is entered after; refused where the record moved on."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from record_helpers import booking, draft, look, reading

from hoistwright.job.entry import Draft
from hoistwright.job.events import Corrected
from hoistwright.job.state import JobState
from hoistwright.store import sql_store
from hoistwright.store.errors import ClashError
from hoistwright.store.lines import export_lines, import_lines
from hoistwright.store.sql_store import SqlStore, open_store


def _sound(store: SqlStore) -> bool:
    return store.verify() == () and store.compare() == ()


def test_every_kind_of_entry_leaves_chains_and_tables_level(store: SqlStore) -> None:
    """Quick ones and long ones in turn, each held against what the journal gives by itself."""
    first = draft(reading())
    sent = [
        draft(booking()), first, draft(reading("section 2")), draft(look("defect")),
        draft(look()), draft(Corrected(corrects=first.id, replacement=reading(value=0.0245))),
        draft(Corrected(corrects=first.id, replacement=None)), draft(booking(serial="A-9")),
        draft(reading("section 3"), by="wren"),
    ]  # fmt: skip
    for one in sent:
        store.append("KQ-1", [one])
        assert _sound(store), one.body.kind
    assert [event.id for event in store.events("KQ-1")] == [one.id for one in sent]


def test_it_is_made_again_from_what_another_bench_entered_meanwhile(address: str) -> None:
    one, two = open_store(address), open_store(address)
    one.append("KQ-1", [draft(booking())])
    seen: list[int] = []

    def make(state: JobState) -> Sequence[Draft]:
        seen.append(state.seq)
        if len(seen) == 1:
            two.append("KQ-1", [draft(look(), by="wren")])
        return [draft(reading())]

    done = one.append_by("KQ-1", make)
    assert seen == [1, 2]
    assert done.state.seq == 3
    assert done.events[0].before == one.events("KQ-1")[1].hash
    assert _sound(one)
    one.close()
    two.close()


def test_what_making_raises_enters_nothing(store: SqlStore) -> None:
    store.append("KQ-1", [draft(booking())])

    def make(_: JobState) -> Sequence[Draft]:
        raise LookupError("asked back")

    for job in ("KQ-1", "KQ-2"):
        with pytest.raises(LookupError):
            store.append_by(job, make)
    assert store.head().number == 1


def test_an_id_of_another_job_is_a_clash(store: SqlStore) -> None:
    taken = draft(reading())
    store.append("KQ-1", [draft(booking())])
    store.append("KQ-2", [draft(booking(serial="B-1"))])
    store.append("KQ-1", [taken])
    with pytest.raises(ClashError):
        store.append("KQ-2", [taken])
    assert store.state("KQ-2").seq == 1
    assert _sound(store)


def test_a_bench_that_knows_more_than_a_restored_record_adds_no_gap(
    address: str, tmp_path: Path
) -> None:
    """The record was taken back to an older copy while a bench remembers what came after it."""
    newer = open_store(tmp_path / "newer.db")
    newer.append("KQ-1", [draft(booking())])
    export_lines(newer, tmp_path / "old.jsonl")
    newer.append("KQ-1", [draft(reading())])
    older = open_store(address)
    import_lines(older, tmp_path / "old.jsonl")
    older._hold(newer.state("KQ-1"))
    assert older.append("KQ-1", [draft(look())]).state.seq == 2
    assert _sound(older)
    newer.close()
    older.close()


def test_the_common_entry_does_go_the_quick_way(
    store: SqlStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.append("KQ-1", [draft(booking())])
    monkeypatch.setattr(sql_store, "writing", None)  # the long way would fail
    assert store.append("KQ-1", [draft(reading())]).state.seq == 2
    assert store.append("KQ-1", [draft(look())]).number == 3
