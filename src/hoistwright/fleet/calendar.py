"""Days as a calendar that other programmes can subscribe to: the iCalendar standard, RFC 5545."""

from __future__ import annotations

import datetime
import hashlib
from collections.abc import Iterable, Iterator

import attrs

PRODUCT = "-//Hoistwright//returns//EN"
MOST_OCTETS = 75


@attrs.frozen(kw_only=True)
class DayEvent:
    """One whole day. `key` names what it is about and stays the same when the day moves."""

    key: str
    day: datetime.date
    summary: str
    description: str = ""
    location: str = ""
    category: str = ""


def calendar_text(events: Iterable[DayEvent], stamp: datetime.datetime, name: str = "") -> str:
    """An iCalendar object with one event for each day.

    Args:
        events: the days, in any order.
        stamp: when this was made, with its time zone.
        name: of the calendar, as programmes show it.

    Returns:
        The text, lines ended by CR LF and folded at 75 octets. An event keeps its UID when its day
        moves, so that a programme that subscribes moves it, too.

    Raises:
        ValueError: a stamp without a time zone.

    References:
        RFC 5545, 3.1 (lines), 3.3.11 (text), 3.4 to 3.6.1 (calendar, event), 3.8.7; RFC 7986, 5.1
        (NAME) and 5.7 (REFRESH-INTERVAL).

    >>> noon = datetime.datetime(2026, 11, 25, 12, tzinfo=datetime.UTC)
    >>> event = DayEvent(key="a", day=datetime.date(2026, 12, 1), summary="Hoist 7, due")
    >>> calendar_text([event], noon).count("BEGIN:VEVENT")
    1
    """
    if stamp.tzinfo is None:
        raise ValueError("the stamp has no time zone; expected one that has.")
    at = stamp.astimezone(datetime.UTC).strftime("%Y%m%dT%H%M%SZ")
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODUCT}", "CALSCALE:GREGORIAN",
             "METHOD:PUBLISH"]  # fmt: skip
    if name:
        lines += [f"NAME:{escaped(name)}", f"X-WR-CALNAME:{escaped(name)}"]
    lines.append("REFRESH-INTERVAL;VALUE=DURATION:PT12H")
    for event in events:
        lines += _event(event, at)
    lines.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for line in lines for folded in fold(line))


def _event(event: DayEvent, stamp: str) -> Iterator[str]:
    uid = hashlib.sha256(event.key.encode()).hexdigest()[:32]
    yield "BEGIN:VEVENT"
    yield f"UID:{uid}@hoistwright"
    yield f"DTSTAMP:{stamp}"
    yield f"DTSTART;VALUE=DATE:{event.day:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{event.day + datetime.timedelta(days=1):%Y%m%d}"
    yield f"SUMMARY:{escaped(event.summary)}"
    more = (("DESCRIPTION", event.description), ("LOCATION", event.location),
            ("CATEGORIES", event.category))  # fmt: skip
    for name, value in more:
        if value:
            yield f"{name}:{escaped(value)}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def escaped(text: str) -> str:
    """A text as a value: backslash, semicolon, comma and line ends escaped (3.3.11)."""
    out = text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    out = out.replace("\r\n", "\n").replace("\r", "\n").replace("\n", "\\n")
    return "".join(c for c in out if c == "\t" or c >= " ")


def fold(line: str) -> Iterator[str]:
    """A line in pieces of at most 75 octets, no character cut; pieces after the first begin with
    a space.

    >>> [len(piece.encode()) for piece in fold("é" * 60)]
    [74, 47]
    """
    piece, size = "", 0
    for character in line:
        octets = len(character.encode())
        if size + octets > MOST_OCTETS:
            yield piece
            piece, size = " ", 1
        piece += character
        size += octets
    yield piece
