"""A visit that is to be told, at the bench or on a card."""

from __future__ import annotations

import attrs

from hoistwright.demo.visit import Visit


@attrs.frozen(kw_only=True)
class Planned:
    """One visit of the history."""

    visit: Visit
    on_card: bool
