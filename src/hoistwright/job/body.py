"""What every event's body is: a kind, and the topic it speaks of."""

from __future__ import annotations

from typing import ClassVar

import attrs

Topic = tuple[str, ...]
"""What an event speaks of. Of two events on one topic the later one stands."""


@attrs.frozen(kw_only=True)
class Body:
    """What an event says. `kind` is its name in the journal."""

    kind: ClassVar[str] = ""

    @property
    def topic(self) -> Topic:
        """Empty where events of this kind stand beside each other, as remarks do."""
        return ()
