"""French: nothing of the own pages and of the data's names is left in English."""

from __future__ import annotations

import datetime
import re
from pathlib import Path

import pytest
from babel.messages.extract import extract_from_file
from babel.messages.pofile import read_po
from messages import KEYWORDS, ROOT, Message, trade_messages, untranslated

from hoistwright.language import language
from hoistwright.language.catalogue import catalogues

OWN = [
    *((ROOT / "web" / "templates").glob("*.html")),
    *((ROOT / "web").glob("*.py")),
    *((ROOT / "web" / "pages").glob("*.py")),
]


def _messages(path: Path) -> set[Message]:
    method = "jinja2" if path.suffix == ".html" else "python"
    found = extract_from_file(method, path, keywords=KEYWORDS)
    return {text if isinstance(text, tuple) else (text,) for _, text, *_ in found}


@pytest.mark.parametrize("path", OWN, ids=lambda path: path.name)
def test_pages_have_their_french(path: Path) -> None:
    assert untranslated("fr", _messages(path)) == []


def test_names_of_data_have_their_french() -> None:
    assert untranslated("fr", trade_messages()) == []


@pytest.mark.parametrize("path", catalogues("fr"), ids=lambda path: path.name)
def test_translations_keep_the_places_to_fill(path: Path) -> None:
    """A translation with another name to fill would make the page fail."""
    with path.open("rb") as file:
        for message in read_po(file, locale="fr"):
            if not message.id:
                continue
            ids, words = _texts(message.id), _texts(message.string)
            wanted = set(re.findall(r"%\((\w+)\)s", " ".join(ids)))
            for text in words:
                assert text, ids
                assert set(re.findall(r"%\((\w+)\)s", text)) <= wanted, ids


def _texts(said: object) -> list[str]:
    """The one text of a message, or the forms of a plural."""
    return [str(text) for text in said] if isinstance(said, list | tuple) else [str(said)]


def test_numbers_and_dates_as_each_language_writes_them() -> None:
    """CLDR: French groups by a narrow no-break space (U+202F) and has a decimal comma."""
    english, french = language("en"), language("fr")
    assert english.number(1234.5, 1) == "1,234.5"
    assert french.number(1234.5, 1) == "1\u202f234,5"
    day = datetime.date(2026, 2, 5)
    assert english.date(day) == "5 Feb 2026"
    assert french.date(day) == "5 févr. 2026"


def test_plurals() -> None:
    """In French nought is singular (CLDR: one is 0 and 1)."""
    french = language("fr")
    said = [french.count("%(number)s fall", "%(number)s falls", n) for n in (0, 1, 2)]
    assert said == ["0 brin", "1 brin", "2 brins"]


def test_names_are_put_together_of_their_pieces() -> None:
    french = language("fr")
    assert french.name("suspension pin, shear stress") == (
        "axe de suspension, contrainte de cisaillement"
    )
    assert french.name("Pawl: tip") == "Cliquet\u00a0: pointe"
    assert french.name("something nobody translated") == "something nobody translated"
