"""The words for the answer to a look. Each look asks so that "in order" is the good answer."""

from __future__ import annotations

from collections.abc import Mapping

from hoistwright.examine.entries import Answer
from hoistwright.sheet.columns import folded

EXPECTED = "in order, defect or not looked (yes and no are taken as in order and defect)"

_WORDS: Mapping[Answer, tuple[str, ...]] = {
    "in order": (
        "in order", "ok", "okay", "o k", "yes", "y", "good", "sound", "true",
        "en ordre", "oui", "o", "bon", "conforme", "vrai",
    ),
    "defect": (
        "defect", "defective", "not in order", "not ok", "no", "n", "bad", "false",
        "défaut", "defaut", "défectueux", "non", "mauvais", "pas en ordre", "non conforme", "faux",
    ),
    "not looked": (
        "not looked", "not looked at", "not seen", "not done", "not reached",
        "non regardé", "non regarde", "pas regardé", "non vu", "pas vu", "pas fait",
    ),
}  # fmt: skip
"""English words, then French ones, with and without their accents."""

_MEANINGS: Mapping[str, Answer] = {
    word: answer for answer, words in _WORDS.items() for word in words
}


def answer_of(text: str) -> Answer | None:
    """The answer that a word stands for; None where it stands for none.

    >>> answer_of("OK"), answer_of("No"), answer_of("perhaps")
    ('in order', 'defect', None)
    >>> answer_of("Oui"), answer_of("Défaut")
    ('in order', 'defect')
    """
    return _MEANINGS.get(folded(text))
