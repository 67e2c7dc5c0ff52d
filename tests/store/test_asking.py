"""What waits for whom, and finding a hoist by what people type."""

from __future__ import annotations

import attrs
import pytest
from record_helpers import booking, draft, look, reading

from hoistwright.job.events import Body, GivenTo, PartChosen, StageFinished
from hoistwright.store.sql_store import SqlStore


@pytest.fixture
def register(store: SqlStore) -> SqlStore:
    hoists = [
        ("KQ-1", booking("A-2041", "Skerry Boatyard", "B7")),
        ("KQ-2", booking("A-2042", "Skerry Boatyard", "B8")),
        ("KQ-3", booking("Q-0007", "Théâtre du Môle", "")),
        ("KQ-4", booking("", "Greyfell Quarry", "rope shed 3")),
        ("KQ-5", booking("A-2041", "Skerry Boatyard", "B7")),
    ]
    for job, body in hoists:
        store.append(job, [draft(body)])
    return store


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("2041", ["A-2041"]),
        ("a204", ["A-2041", "A-2042"]),
        ("A-2041", ["A-2041"]),
        ("a 2041", ["A-2041"]),
        ("skerry", ["A-2041", "A-2042"]),
        ("SKERRY 2042", ["A-2042"]),
        ("boat b7", ["A-2041"]),
        ("theatre", ["Q-0007"]),
        ("mole 7", ["Q-0007"]),
        ("0007", ["Q-0007"]),
        ("shed", [""]),
        ("041", []),
        ("skerry 0007", []),
        ("  ", []),
        ("%", []),
        ("'; DROP TABLE hoists; --", []),
    ],
)
def test_a_hoist_is_found_by_beginnings(register: SqlStore, typed: str, found: list[str]) -> None:
    assert sorted(row.serial for row in register.search(typed)) == found


def test_the_closest_comes_first(store: SqlStore) -> None:
    for job, serial in (("KQ-1", "2041-A"), ("KQ-2", "2041"), ("KQ-3", "20411")):
        store.append(job, [draft(booking(serial))])
    assert [row.serial for row in store.search("2041")] == ["2041", "2041-A", "20411"]
    assert len(store.search("2041", limit=2)) == 2


def test_visits_of_one_hoist_are_one_line(register: SqlStore) -> None:
    row = register.hoist("ardle/a2041")
    assert row is not None
    assert (row.visits, row.last_job) == (2, "KQ-5")
    assert [line.job for line in register.jobs(hoist="ardle/a2041")] == ["KQ-5", "KQ-1"]
    assert register.hoist("no/such") is None


def test_a_hoist_without_serial_is_known_by_its_owners_tag(register: SqlStore) -> None:
    assert register.hoist("tag/greyfellquarry/ropeshed3") is not None


def test_earlier_readings_are_of_earlier_visits(register: SqlStore) -> None:
    register.append("KQ-1", [draft(reading(value=0.0240))])
    register.append("KQ-5", [draft(reading(value=0.0242))])
    before = register.earlier_readings("ardle/a2041", before_job="KQ-5")
    assert [(row.job, row.mean) for row in before] == [("KQ-1", 0.0240)]
    assert len(register.earlier_readings("ardle/a2041")) == 2


def test_what_waits_for_whom(register: SqlStore) -> None:
    bodies: list[Body] = [StageFinished(stage="book in"), GivenTo(person="wren")]
    register.append("KQ-2", [draft(body) for body in bodies])
    register.append("KQ-3", [draft(GivenTo(person="wren"))])
    assert register.waiting() == {"book in": {"": 3, "wren": 1}, "strip": {"wren": 1}}
    assert [row.job for row in register.jobs(stage="book in")] == ["KQ-1", "KQ-3", "KQ-4", "KQ-5"]
    assert [row.job for row in register.jobs(holder="wren")] == ["KQ-2", "KQ-3"]
    assert [row.job for row in register.jobs(stage="strip", holder="wren")] == ["KQ-2"]
    assert len(register.jobs(limit=2)) == 2


def test_a_line_counts_what_stands(register: SqlStore) -> None:
    defect = attrs.evolve(look("defect"), remark="rounded")
    register.append("KQ-1", [draft(reading()), draft(defect), draft(PartChosen(part="pawl"))])
    row = register.job("KQ-1")
    assert row is not None
    assert (row.readings, row.defects, row.renewals, row.photos, row.seq) == (1, 1, 1, 0, 4)
