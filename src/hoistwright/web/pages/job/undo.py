"""Taking back one's last entry on a job, from any of its pages: a correction like any other."""

from __future__ import annotations

import attrs

from hoistwright.job.entry import Event
from hoistwright.job.events import Body, Corrected
from hoistwright.job.events_quote import QuoteAnswered
from hoistwright.job.state import Standing
from hoistwright.web.pages.job.answer_group import together
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.conflicts import about, body_words
from hoistwright.web.pages.job.question import Question, ask

KINDS = frozenset(
    ("reading", "look", "step", "part choice", "remark", "photo", "extent chosen", "stage finished",
     "proof reading", "proof look", "quote answer")
)  # fmt: skip
"""What a slip of the hand enters. What somebody signs or issues is taken back where it was done."""


@attrs.frozen(kw_only=True)
class Undo:
    """The offer to take an entry back. `again`: it was taken back and would stand again."""

    entry: str
    what: str
    again: bool


def undo_of(case: Case) -> Undo | None:
    """What this person could take back; None where there is nothing, or others spoke since."""
    found = _last(case)
    if found is None:
        return None
    standing, event = found
    said = _said(event)
    return Undo(entry=event.id, what=_what(case, standing, event), again=said is None)


def _what(case: Case, standing: Standing, event: Event) -> str:
    """The entry in a few words; of an answer to a quote the whole of it."""
    head = together(case.state, standing)[0].event.body
    if isinstance(head, QuoteAnswered):
        return case.visit.say("the customer's answer to %(quote)s", quote=head.quote)
    shown = _said(event) or _before(standing, event)
    words = (about(case, shown), body_words(case, shown))
    return ": ".join(word for word in words if word)[:120]


def undo_said(case: Case) -> Body | Question:
    """The correction that takes the last entry back."""
    found = _last(case)
    if found is None or found[1].id != case.visit.field("entry"):
        say = case.visit.say
        return ask("entry", say("This is not your last entry any more. Load the page again."))
    first = together(case.state, found[0])[0]  # an answer goes with all of its choices
    return Corrected(corrects=first.event.id, replacement=_before(first, first.last))


def _last(case: Case) -> tuple[Standing, Event] | None:
    """The last event of this person, where it is the last word on its entry."""
    own = [
        (entry, event)
        for entry in case.state.entries.values()
        for event in entry.touches
        if event.by == case.visit.person.key
    ]
    found = max(own, key=lambda item: item[1].seq, default=None)
    if found is None or found[0].last is not found[1] or found[0].event.kind not in KINDS:
        return None
    return found


def _before(standing: Standing, event: Event) -> Body | None:
    """What an entry said before an event spoke of it; nothing before the first."""
    at = standing.touches.index(event)
    return _said(standing.touches[at - 1]) if at else None


def _said(event: Event) -> Body | None:
    return event.body.replacement if isinstance(event.body, Corrected) else event.body
