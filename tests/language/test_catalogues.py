"""The catalogues together: one text has one translation, and typography is French."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

from hoistwright.language.catalogue import SENTENCES, catalogues

FILES = catalogues("fr")


def entries(path: Path) -> list[tuple[str, str]]:
    with path.open("rb") as file:
        read = [(m.id, m.string) for m in read_po(file, locale="fr") if m.id]
    return [(str(a), str(b)) for a, b in read if not isinstance(a, list | tuple)]


def test_a_text_is_translated_in_one_way() -> None:
    """gettext takes the first catalogue: a second, other translation would never be seen."""
    found: dict[str, dict[str, str]] = {}
    for path in FILES:
        for text, said in entries(path):
            found.setdefault(" ".join(text.split()), {})[path.name] = said
    assert {text: said for text, said in found.items() if len(set(said.values())) > 1} == {}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_nothing_is_left_empty(path: Path) -> None:
    assert [text for text, said in entries(path) if not said] == []


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_apostrophes_are_french(path: Path) -> None:
    """A typewriter's apostrophe between letters is none in French print."""
    assert [said for _, said in entries(path) if re.search(r"\w'\w", said)] == []


def test_templates_of_sentences_say_something_of_their_own() -> None:
    """A template without a word of its own would fit anything that is said."""
    loose = {"%(one)s (%(other)s)"}
    for path in FILES:
        if path.stem.endswith(SENTENCES):
            texts = {text for text, _ in entries(path) if "%(" in text}
            bare = {t for t in texts if not re.search(r"[A-Za-z]{2}", re.sub(r"%\(\w+\)s", "", t))}
            assert bare <= loose | {t for t in bare if "p + 2 d" in t or "± " in t}
