"""The calendar as an independent reader of iCalendar files understands it."""

from __future__ import annotations

import datetime
from typing import Any

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.fleet.calendar import MOST_OCTETS, DayEvent, calendar_text

NOON = datetime.datetime(2026, 11, 25, 12, tzinfo=datetime.UTC)
DAY = datetime.date(2026, 12, 7)
TEXTS = st.text(
    st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp"), include_characters="\n"),
    max_size=200,
)


def read(text: str) -> Any:
    """The calendar, by a library that knows nothing of ours."""
    return icalendar.Calendar.from_ical(text)


def events(text: str) -> list[Any]:
    return list(read(text).walk("VEVENT"))


@given(TEXTS.filter(str.strip), TEXTS, TEXTS)
def test_what_is_written_is_read(summary: str, description: str, where: str) -> None:
    event = DayEvent(key="k", day=DAY, summary=summary, description=description, location=where)
    found = events(calendar_text([event], NOON))
    assert len(found) == 1
    assert str(found[0]["SUMMARY"]) == summary
    assert str(found[0].get("DESCRIPTION", "")) == description
    assert str(found[0].get("LOCATION", "")) == where
    assert found[0]["DTSTART"].dt == DAY
    assert found[0]["DTEND"].dt == DAY + datetime.timedelta(days=1)


@given(TEXTS)
def test_no_line_is_longer_than_the_standard_allows(text: str) -> None:
    made = calendar_text([DayEvent(key="k", day=DAY, summary=text)], NOON, name=text)
    lines = made.split("\r\n")
    assert lines[-1] == ""
    # RFC 5545, 3.1: lines SHOULD NOT be longer than 75 octets, the line break left out
    assert max(len(line.encode()) for line in lines) <= MOST_OCTETS
    assert "\n" not in made.replace("\r\n", "")


def test_an_event_keeps_its_uid_when_its_day_moves() -> None:
    before = DayEvent(key="ardle/a1", day=DAY, summary="a")
    after = DayEvent(key="ardle/a1", day=DAY + datetime.timedelta(days=9), summary="b")
    other = DayEvent(key="ardle/a2", day=DAY, summary="a")
    uids = [str(events(calendar_text([e], NOON))[0]["UID"]) for e in (before, after, other)]
    assert uids[0] == uids[1]
    assert uids[0] != uids[2]


def test_what_every_calendar_must_have() -> None:
    """RFC 5545, 3.6: PRODID and VERSION; 3.6.1: UID and DTSTAMP."""
    found = read(
        calendar_text([DayEvent(key="k", day=DAY, summary="s", category="wear")], NOON, name="n")
    )
    assert str(found["VERSION"]) == "2.0"
    assert str(found["PRODID"]).startswith("-//")
    event = found.walk("VEVENT")[0]
    assert event["DTSTAMP"].dt == NOON
    assert not read(calendar_text([], NOON)).walk("VEVENT")


def test_a_stamp_without_a_time_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="no time zone"):
        calendar_text([], datetime.datetime(2026, 11, 25, 12))
