"""LOLER 1998 (SI 1998/2307): in force, intervals, report items, keeping of reports.

Source: the Lifting Operations and Lifting Equipment Regulations 1998, regulations 1, 9(3) and
11, and Schedule 1 (text read for paragraphs 1 to 8(c) and regulation 11; 8(d) to 11 from
memory). The items stand in our own words.
"""

from __future__ import annotations

import datetime

from hoistwright.basis.loading import shipped_basis

BASIS = shipped_basis("uk-loler")


def test_in_force_since_5_december_1998() -> None:
    (criterion,) = BASIS.criteria
    assert [limit.since for limit in criterion.limit] == [datetime.date(1998, 12, 5)]


def test_regulation_9_3_intervals() -> None:
    months = {i.name: i.months for i in BASIS.head.interval}
    assert months == {
        "lifting persons": 6,
        "accessory for lifting": 6,
        "other lifting equipment": 12,
    }


def test_schedule_1_has_eleven_paragraphs_the_eighth_in_six_parts() -> None:
    numbers = [item.number for item in BASIS.head.report_item]
    parts = [f"8({letter})" for letter in "abcdef"]
    assert numbers == [*map(str, range(1, 8)), *parts, "9", "10", "11"]


def test_what_was_read_and_what_is_from_memory() -> None:
    read = [item.number for item in BASIS.head.report_item if item.known == "read"]
    assert read == ["1", "2", "3", "4", "5", "6", "7", "8(a)", "8(b)", "8(c)"]


def test_there_is_no_pass_field() -> None:
    assert not [item for item in BASIS.head.report_item if "pass" in item.what.lower()]


def test_regulation_11_periodic_reports_two_years_or_the_next_whichever_is_later() -> None:
    kept = {k.clause: k.until for k in BASIS.head.keeping}
    assert kept["regulation 11(2)(a)(iv)"] == (
        "the next such report or two years, whichever is later"
    )
    assert len(kept) == 5


def test_it_has_no_discard_limits_of_its_own() -> None:
    assert {c.comparison for c in BASIS.criteria} == {"in order"}
