"""What can happen between shop and customer before the work goes on: a quote and its answer."""

from __future__ import annotations

import datetime
from typing import ClassVar

import attrs

from hoistwright.job.body import Body, Topic


@attrs.frozen(kw_only=True)
class QuoteMade(Body):
    """A quote as it was sent. Money in minor units of `currency`, without tax.

    `content` is the SHA-256 of the stored PDF; empty where none was made.
    """

    kind: ClassVar[str] = "quote"

    number: str
    currency: str
    must: tuple[str, ...]
    advised: tuple[str, ...]
    can_wait: tuple[str, ...]
    must_total: int
    total: int
    """With everything advised."""
    valid_until: datetime.date | None = None
    content: str = ""

    @property
    def topic(self) -> Topic:
        return (self.kind,)


@attrs.frozen(kw_only=True)
class QuoteAnswered(Body):
    """What the customer said to a quote. `agreed`: parts; none of them: the repair is declined.

    `said_by` is whoever spoke for the customer, `how` the way it was said: by telephone, in
    writing, at the counter.
    """

    kind: ClassVar[str] = "quote answer"

    quote: str
    agreed: tuple[str, ...]
    said_by: str
    how: str
    declined: tuple[str, ...] = ()
    remark: str = ""

    @property
    def topic(self) -> Topic:
        return (self.kind,)
