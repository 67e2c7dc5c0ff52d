"""Message catalogues in gettext's format, read as they are written: no build step."""

from __future__ import annotations

import datetime
import functools
import io
from collections.abc import Callable, Iterable, Mapping, Sequence
from gettext import GNUTranslations, NullTranslations
from importlib import resources
from pathlib import Path
from types import MappingProxyType

import attrs

from hoistwright.language.sentences import Translator, templates

LANGUAGES: Mapping[str, str] = MappingProxyType({"en": "English", "fr": "Français"})
"""Code and own name of each language. English is what the code is written in."""

_LOCALES = {"en": "en_GB", "fr": "fr_FR"}
_MARKS = {"fr": {": ": "\u00a0: ", "; ": "\u00a0; "}}
"""Marks between two pieces of a text, where a language writes them in its own way."""


def marked(text: str) -> str:
    """Marks a text for the catalogues where it stands in code and is translated later."""
    return text


def pieces(text: str, known: Callable[[str], bool]) -> list[str]:
    """A name cut at its commas and colons where it is not known whole; the marks stay.

    >>> pieces("top hook, twist", lambda word: False)
    ['top hook', ', ', 'twist']
    """
    if known(text) or known(text[:1].lower() + text[1:]):
        return [text]
    for mark in (": ", ", "):
        for at in range(len(text) - 1, 0, -1):
            head, tail = text[:at], text[at + len(mark) :]
            if text[at : at + len(mark)] == mark and (known(head) or ", " not in head):
                return [*pieces(head, known), mark, *pieces(tail, known)]
    return [text]


@attrs.frozen
class Language:
    """One language: its words, and how it writes numbers and dates."""

    code: str
    words: NullTranslations = attrs.field(repr=False, eq=False)
    known: frozenset[str] = attrs.field(default=frozenset(), repr=False, eq=False)
    """The texts that the catalogues have."""
    translator: Translator | None = attrs.field(default=None, repr=False, eq=False)
    """For sentences of engines and data; None where they are in this language already."""

    def say(self, text: str, /, **values: object) -> str:
        """`text` in this language, with `%(name)s` filled in; in English if it is unknown.

        A text that no catalogue has as it stands may be a sentence of an engine.
        """
        found = self.words.gettext(text) if text else ""
        if values:
            return found % values
        return self.sentence(text) if found == text and self.translator else found

    def knows(self, text: str) -> bool:
        """Whether a text has a translation. English needs none."""
        return self.code == "en" or text in self.known

    def sentence(self, text: str) -> str:
        """A text that an engine or a data file gave in English (`language/sentences.py`).

        >>> language("fr").sentence("Measure it and enter the reading.")
        'Mesurez et saisissez le relevé.'
        """
        return text if self.translator is None else self.translator.put(text).text

    def lacking(self, text: str) -> tuple[str, ...]:
        """The pieces of such a text that stay in English."""
        return () if self.translator is None else self.translator.put(text).lacking

    def name(self, text: str) -> str:
        """A name out of a data file, such as "stay bolts, preload over proof load".

        A name that is not in the catalogues as a whole is put together of its pieces.
        """
        marks = {": ": ": ", ", ": ", ", **_MARKS.get(self.code, {})}
        found = pieces(text, self.knows)
        return "".join(marks[piece] if piece in marks else self._piece(piece) for piece in found)

    def _piece(self, text: str) -> str:
        found = self.say(text)
        if found == text and text[:1].isupper():
            found = self.say(text[0].lower() + text[1:])
            return found[:1].upper() + found[1:]
        return found

    def count(self, one: str, many: str, number: int, /, **values: object) -> str:
        """The form for `number` things, which may be named `%(number)s`."""
        found = self.words.ngettext(one, many, number)
        return found % {"number": self.number(number), **values}

    @property
    def locale(self) -> str:
        return _LOCALES[self.code]

    @property
    def colon(self) -> str:
        """The colon between a label and what it labels."""
        return _MARKS.get(self.code, {}).get(": ", ": ")

    @property
    def decimal(self) -> str:
        """The decimal mark."""
        return "," if self.code == "fr" else "."

    def number(self, value: float, decimals: int = 0) -> str:
        """A number with grouped thousands and at most so many decimals.

        >>> language("fr").number(2.5, 2)
        '2,5'
        """
        from babel.numbers import format_decimal

        return format_decimal(value, "#,##0." + "#" * decimals, locale=self.locale)

    def date(self, day: datetime.date | None, *, long: bool = False) -> str:
        """A day, such as 25 Nov 2026 (`long`: 25 November 2026); nothing for None.

        >>> language("fr").date(datetime.date(2027, 3, 1))  # the first of a month is an ordinal
        '1er mars 2027'
        """
        from babel.dates import format_date

        if day is None:
            return ""
        found = format_date(day, "d MMMM y" if long else "d MMM y", locale=self.locale)
        return f"1er{found[1:]}" if self.code == "fr" and day.day == 1 else found

    def moment(self, at: datetime.datetime | None) -> str:
        """A moment in local time, such as 25 Nov 2026 14:05; nothing for None."""
        if at is None:
            return ""
        local = at.astimezone()
        return f"{self.date(local.date())} {local:%H:%M}"


@functools.cache
def language(code: str) -> Language:
    """The language with this code; KeyError where there is none."""
    if code not in LANGUAGES:
        raise KeyError(code)
    words: NullTranslations = NullTranslations()
    texts: dict[str, str] = {}
    forms: list[str] = []
    for path in reversed(catalogues(code)):
        read, ids = _read(path)
        read.add_fallback(words)
        words = read
        texts |= ids
        forms += ids if path.stem.endswith(SENTENCES) else ()
    if not texts:
        return Language(code, words)
    return Language(code, words, frozenset(texts), _translator(code, texts, forms))


SENTENCES = "sentences"
"""How the name of a catalogue ends whose texts with places are sentences of engines."""


def _translator(code: str, texts: Mapping[str, str], forms: Iterable[str]) -> Translator:
    single = {" ".join(text.split()): said for text, said in texts.items()}
    plain = Language(code, NullTranslations())
    return Translator(single, templates(forms), plain.decimal, plain.date, _MARKS.get(code, {}))


def catalogues(code: str) -> tuple[Path, ...]:
    """The catalogue files of a language, one for each subject; English has none."""
    folder = Path(str(resources.files("hoistwright.language"))) / code
    return tuple(sorted(folder.glob("*.po"))) if folder.is_dir() else ()


def _read(path: Path) -> tuple[GNUTranslations, dict[str, str]]:
    """A catalogue, and its texts with their translations (of a plural the first form)."""
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    with path.open("rb") as file:
        catalogue = read_po(file, locale=path.parent.name)
    out = io.BytesIO()
    write_mo(out, catalogue)
    out.seek(0)
    texts = {
        _first(message.id): _first(message.string)
        for message in catalogue
        if message.id and message.string
    }
    return GNUTranslations(out), texts


def _first(said: str | Sequence[str]) -> str:
    return said if isinstance(said, str) else said[0]
