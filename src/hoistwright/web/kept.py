"""What every request asks and hardly ever changes, kept for a second.

Anything this program writes beside the journal throws all of it away at once, so that somebody
signed out or a gauge put away is so from the next request on. What another bench writes into the
same database is known here within the second.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Hashable
from typing import Any, TypeVar

import attrs
from sqlalchemy import Connection, Engine

from hoistwright.store.connect import changes, reading

LONGEST = 1.0
"""Seconds after which it is asked again."""
_MOST = 2000

T = TypeVar("T")


@attrs.define
class Kept:
    """Values by key, each good as long as nothing was written and a second has not gone by."""

    _values: dict[Hashable, tuple[int, float, Any]] = attrs.Factory(dict)

    def at_hand(self, engine: Engine, key: Hashable) -> Any:
        """The kept value; None where there is none that is still good."""
        found = self._values.get(key)
        if found is None or found[0] != changes(engine) or time.monotonic() > found[1]:
            return None
        return found[2]

    def get(self, engine: Engine, key: Hashable, ask: Callable[[Connection], T]) -> T:
        """The kept value, else asked for in a transaction of its own."""
        found: T | None = self.at_hand(engine, key)
        if found is None:
            stands = changes(engine)  # before it is asked: a change meanwhile makes it stale
            with reading(engine) as connection:
                found = ask(connection)
            if len(self._values) > _MOST:
                self._values.clear()
            self._values[key] = stands, time.monotonic() + LONGEST, found
        return found
