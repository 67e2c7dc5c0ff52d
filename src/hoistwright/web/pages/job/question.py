"""What an entry asks back before it is taken: nothing typed is lost meanwhile."""

from __future__ import annotations

import attrs


@attrs.frozen(kw_only=True)
class Question:
    """`field` is where it stands. `offers` are figures that may have been meant, as typed;
    `sure` is what to send if it really is so; empty where it cannot be.
    """

    field: str
    words: str
    offers: tuple[str, ...] = ()
    sure: str = ""


def ask(field: str, words: str) -> Question:
    """A question without offers."""
    return Question(field=field, words=words)
