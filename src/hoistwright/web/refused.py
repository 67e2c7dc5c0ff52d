"""A request that is refused, in words for whoever made it."""

from __future__ import annotations

import attrs


@attrs.frozen
class Refused(Exception):  # noqa: N818 - a refusal, not a failure
    """Raised by a page to answer with `status` and a plain page (or JSON) that says why."""

    status: int
    why: str
    """One sentence, in the language of the person."""
    next_step: str = ""
