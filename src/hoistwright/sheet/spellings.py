"""The words of a sheet in every language: a French sheet reads back like an English one."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping

from hoistwright.language import LANGUAGES, language
from hoistwright.sheet.folding import folded


@functools.cache
def spellings(word: str) -> frozenset[str]:
    """A word as each language writes it, folded.

    >>> sorted(spellings("remark"))
    ['remark', 'remarque']
    """
    return frozenset(folded(language(code).say(word)) for code in LANGUAGES)


def by_spelling(words: Iterable[str]) -> Mapping[str, str]:
    """Each spelling with the word that it stands for; of two such words the first."""
    found: dict[str, str] = {}
    for word in words:
        for spelling in spellings(word):
            found.setdefault(spelling, word)
    return found
