"""What a page or paper says in French, and what of it has no French."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from hoistwright.language import Language


@contextmanager
def what_stays_english() -> Iterator[dict[str, str]]:
    """Collects each text, or piece of one, that is asked for in French and has none, with the
    whole text in which it stood.
    """
    found: dict[str, str] = {}
    say, sentence, count = Language.say, Language.sentence, Language.count

    def heard_say(self: Language, text: str, /, **values: object) -> str:
        if values and not self.knows(text):
            found.setdefault(text, text)
        if not values:
            found.update(dict.fromkeys(self.lacking(text), text))
        return say(self, text, **values)

    def heard_sentence(self: Language, text: str) -> str:
        for piece in self.lacking(text):
            found.setdefault(piece, text)
        return sentence(self, text)

    def heard_count(self: Language, one: str, many: str, number: int, /, **values: object) -> str:
        if not self.knows(one):
            found.setdefault(one, one)
        return count(self, one, many, number, **values)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Language, "say", heard_say)
        patch.setattr(Language, "sentence", heard_sentence)
        patch.setattr(Language, "count", heard_count)
        yield found
