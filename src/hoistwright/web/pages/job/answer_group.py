"""An answer to a quote and the choices that followed from it: they stand and fall together."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import attrs

from hoistwright.job.entry import Draft
from hoistwright.job.events import Corrected, PartChosen
from hoistwright.job.events_quote import QuoteAnswered
from hoistwright.job.state import JobState, Standing


def following_id(first: str, at: int) -> str:
    """The id of the entry that follows from another one, counted from 1."""
    return f"{first[:56]}-{at}"


def together(state: JobState, entry: Standing) -> tuple[Standing, ...]:
    """An answer with its choices, the answer first; any other entry stands alone."""
    for answer in state.entries.values():
        if isinstance(answer.event.body, QuoteAnswered):
            many = (answer, *_choices(state, answer))
            if entry in many:
                return many
    return (entry,)


def _choices(state: JobState, answer: Standing) -> Iterator[Standing]:
    for at in itertools.count(1):
        choice = state.entries.get(following_id(answer.event.id, at))
        if choice is None or not isinstance(choice.event.body, PartChosen):
            return
        yield choice


def with_choices(state: JobState, draft: Draft) -> list[Draft]:
    """A correction of an answer with those of its choices; any other draft alone."""
    body = draft.body
    root = state.entries.get(body.corrects) if isinstance(body, Corrected) else None
    if root is None or not isinstance(root.event.body, QuoteAnswered):
        return [draft]
    assert isinstance(body, Corrected)
    stands = body.replacement is not None
    more = [
        attrs.evolve(
            draft,
            id=following_id(draft.id, at),
            body=Corrected(
                corrects=choice.event.id,
                replacement=choice.event.body if stands else None,
                reason=body.reason,
            ),
        )
        for at, choice in enumerate(_choices(state, root), start=1)
    ]
    return [draft, *more]
