"""Letters and messages to customers whose hoists are due, in the customer's language."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

from hoistwright.fleet.due import Due
from hoistwright.language import Language
from hoistwright.web.due_words import hoist_words, why_due


def letter_subject(language: Language, shop: str) -> str:
    return language.say("Hoists due at %(shop)s", shop=shop)


def letter_text(
    language: Language, shop: str, address: str, due: Sequence[Due], today: datetime.date, by: str
) -> str:
    """A letter to one customer about all of their hoists that are due.

    Args:
        language: the customer's.
        shop: name of the shop.
        address: of the shop.
        due: the customer's hoists, soonest first.
        today: the day it is written.
        by: name of who writes.

    Returns:
        Plain text, ready for an e-mail or a sheet of paper.
    """
    customer = due[0].last.customer
    lines = [
        shop, address, "",
        customer.name, *customer.address.split(", "), "",
        language.date(today, long=True), "",
        letter_subject(language, shop), "",
        language.say("Dear customer,"), "",
        language.count(
            "this hoist of yours must be examined again by the day given:",
            "these %(number)s hoists of yours must be examined again by the days given:",
            len(due),
        ), "",
    ]  # fmt: skip
    for item in due:
        lines += [*_hoist(language, item, today), ""]
    if any(item.overdue(today) for item in due):
        out = language.say("Take a hoist whose day has passed out of use until it is examined.")
        lines += [out, ""]
    lines += [
        language.say("Please tell us when you will bring them, or when we may fetch them."), "",
        language.say("Yours faithfully"), by, shop,
    ]  # fmt: skip
    return "\n".join(lines)


def _hoist(language: Language, item: Due, today: datetime.date) -> list[str]:
    where = item.last.customer.premises
    day = item.paper if item.paper and item.overdue(today) else item.day
    when = language.say("by %(day)s", day=language.date(day, long=True))
    if item.overdue(today):
        when += language.say(" (passed)")
    elif item.wear_now(today):
        when = language.say("as soon as you can")
    lines = [
        f"- {hoist_words(language, item)}",
        f"  {when}",
        "  " + why_due(language, item, today),
    ]
    if where:
        lines.insert(1, "  " + language.say("used at %(place)s", place=where))
    return lines
