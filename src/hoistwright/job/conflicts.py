"""Two people on one job: who spoke without knowing what the other had said."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import attrs

from hoistwright.job.entry import Event
from hoistwright.job.events import Body, Corrected, Topic


@attrs.frozen(kw_only=True)
class Conflict:
    """Two events on one topic by two people, the later made without knowing the earlier.

    The later stands. The conflict ends once somebody who has seen both speaks on the topic, or
    one of the two is withdrawn.
    """

    topic: Topic
    earlier: Event
    later: Event

    @property
    def sentence(self) -> str:
        return (
            f"{', '.join(word for word in self.topic if word)}: {self.earlier.by} (entry "
            f"{self.earlier.seq}) and {self.later.by} (entry {self.later.seq}) entered different "
            "things without knowing of each other. The later stands until one of them settles it."
        )


def conflicts_of(spoken: Iterable[tuple[Topic, Sequence[Event]]]) -> tuple[Conflict, ...]:
    """The open conflicts. `spoken`: topic and events of each entry that is not withdrawn."""
    by_topic: dict[Topic, list[Event]] = {}
    for topic, events in spoken:
        if topic:
            by_topic.setdefault(topic, []).extend(events)
    return tuple(
        conflict
        for topic, events in by_topic.items()
        if len(events) > 1
        for conflict in _on(topic, sorted(events, key=lambda event: event.seq))
    )


def _on(topic: Topic, events: Sequence[Event]) -> Iterable[Conflict]:
    for at, later in enumerate(events):
        for earlier in events[:at]:
            if (
                earlier.by != later.by
                and later.seen < earlier.seq
                and _said(earlier) != _said(later)
                and not any(after.seen >= later.seq for after in events[at + 1 :])
            ):
                yield Conflict(topic=topic, earlier=earlier, later=later)


def _said(event: Event) -> Body | None:
    return event.body.replacement if isinstance(event.body, Corrected) else event.body
