"""RFC 5545, Internet Calendaring and Scheduling Core Object Specification (iCalendar), 2009.

Section 3.3.11 gives a text of three lines and how it is written as a value, and which characters
are escaped (its wording seen as programmes quote it). From memory: 3.1 on folding at 75 octets,
which unfolding must undo; 3.6.1: the end of an event of whole days is the day after its last;
3.8.7.2: the stamp is in UTC.
"""

from __future__ import annotations

import datetime

from hoistwright.fleet.calendar import DayEvent, calendar_text, escaped, fold

NOON = datetime.datetime(1997, 7, 14, 17, tzinfo=datetime.UTC)


def test_3_3_11_a_text_of_three_lines() -> None:
    told = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    written = r"Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    assert escaped(told) == written


def test_3_3_11_characters_that_must_be_escaped() -> None:
    """Backslash, semicolon and comma are; a colon is not."""
    assert escaped("a\\b;c,d:e") == r"a\\b\;c\,d:e"


def test_3_1_folding_is_undone_by_taking_line_break_and_space_away() -> None:
    line = "DESCRIPTION:This is a long description that exists on a long line." * 4
    folded = "\r\n".join(fold(line))
    assert folded != line
    assert folded.replace("\r\n ", "") == line
    assert all(len(piece.encode()) <= 75 for piece in folded.split("\r\n"))


def test_3_6_1_a_day_ends_where_the_next_begins() -> None:
    text = calendar_text([DayEvent(key="a", day=datetime.date(1997, 11, 2), summary="s")], NOON)
    assert "DTSTART;VALUE=DATE:19971102\r\n" in text
    assert "DTEND;VALUE=DATE:19971103\r\n" in text


def test_3_8_7_2_the_stamp_is_in_utc() -> None:
    zone = datetime.timezone(datetime.timedelta(hours=-5))
    local = datetime.datetime(1997, 7, 14, 12, tzinfo=zone)
    event = DayEvent(key="a", day=datetime.date(1997, 11, 2), summary="s")
    assert "DTSTAMP:19970714T170000Z\r\n" in calendar_text([event], local)
