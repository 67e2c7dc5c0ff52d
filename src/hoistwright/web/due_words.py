"""When a hoist is due and why, in the words of a language: for pages, letters, calendars."""

from __future__ import annotations

import datetime

from hoistwright.fleet.due import Due
from hoistwright.fleet.histories import History
from hoistwright.fleet.words import chance_words
from hoistwright.language import Language, marked

REASONS = {
    "wear": marked("wear"),
    "interval": marked("interval"),
    "certificate": marked("day on the certificate"),
}


def said_chance(language: Language, chance: float) -> str:
    """A probability in words of the reader."""
    return language.sentence(chance_words(chance))


def title_of(language: Language, history: History) -> str:
    """Part and feature, with a capital."""
    scale = history.scale
    words = f"{language.name(scale.part_name)}, {language.name(scale.feature_name)}"
    return words[:1].upper() + words[1:]


def reason_of(due: Due, today: datetime.date) -> str:
    """What counts today: of an overdue hoist the day on paper, whatever wear says."""
    if due.overdue(today):
        return "certificate" if due.by_certificate else "interval"
    return due.reason


def why_due(language: Language, due: Due, today: datetime.date) -> str:
    """Why it is due on its day, in one sentence."""
    reason = reason_of(due, today)
    if reason == "wear" and due.worst is not None:
        return _by_wear(language, due)
    if reason == "certificate":
        why = language.sentence(due.last.why_due)
        words = language.say("As signed on certificate %(number)s", number=due.last.certificate)
        return f"{words}{language.say(': ')}{why}." if why else f"{words}."
    return _by_interval(language, due)


def _by_interval(language: Language, due: Due) -> str:
    interval = due.interval
    if interval is None:
        return ""
    if interval.months:
        length = language.count(
            "%(number)s month after the last visit", "%(number)s months after the last visit",
            interval.months,
        )  # fmt: skip
    else:
        length = language.count(
            "%(number)s day after the last visit", "%(number)s days after the last visit",
            interval.days,
        )  # fmt: skip
    return language.say("%(length)s, for %(service)s.", length=length,
                        service=language.name(interval.name))  # fmt: skip


def _by_wear(language: Language, due: Due) -> str:
    assert due.worst is not None
    title = title_of(language, due.worst.history)
    paper = due.paper
    if paper is None:
        return language.say("%(title)s: may reach its limit from then on.", title=title)
    return language.say(
        "%(title)s may not last until %(day)s: chance of being beyond its limit %(chance)s.",
        title=title,
        day=language.date(paper),
        chance=said_chance(language, due.worst.chance_by(paper)),
    )


def how_late(language: Language, due: Due, today: datetime.date) -> str:
    """How far off the day is, in days or weeks."""
    if due.wear_now(today):
        return language.say("call it in")
    day = due.paper if due.paper and due.overdue(today) else due.day
    days = (day - today).days
    if days == 0:
        return language.say("today")
    weeks = round(abs(days) / 7)
    if abs(days) < 14:
        length = language.count("%(number)s day", "%(number)s days", abs(days))
    else:
        length = language.count("%(number)s week", "%(number)s weeks", weeks)
    if days < 0:
        return language.say("overdue by %(length)s", length=length)
    return language.say("in %(length)s", length=length)


def hoist_words(language: Language, due: Due) -> str:
    """A hoist by make, model, serial number and tag."""
    one = due.last.identity
    name = " ".join(w for w in (one.maker, one.model) if w and w != "not known")
    words = [name or language.say("maker unknown")]
    if one.serial:
        words.append(language.say("no. %(serial)s", serial=one.serial))
    if one.tag:
        words.append(language.say("tag %(tag)s", tag=one.tag))
    return ", ".join(words)
