"""Sentences that engines and data files give in English, put into a language at the edge.

Engines know one language and give plain texts, so that they stay pure and their texts can lie in
a record. A catalogue whose name ends in `sentences` holds their templates, such as

    msgid "%(own_gauge)s has no %(what)s on record"

A text that a template fits is said in the language, and what stood in the places is put in
again: a figure with the language's decimal mark, a day as the language writes it, a text in
translation. A place whose name begins with `own_` holds a proper name, a key or what somebody
typed: it stays as it is.
"""

from __future__ import annotations

import datetime
import functools
import re
from collections.abc import Callable, Iterable, Iterator, Mapping

import attrs

PLACE = re.compile(r"%\((\w+)\)s")
FIGURE = re.compile(
    r"(?:[<>±] )?-?\d+(?:\.\d+)?(?:/\d+)?(?: \d+/\d+)?(?: ± \d+(?:\.\d+)?)?"
    r"(?:\u00a0| ?)(?:mm|µm|cm|m|in|ft|kg|lb|t|N|kN|lbf|daN|Nm|N m|lbf ft|°|%|K|°C|s|min|h)?"
    r"(?: ± \d+(?:\.\d+)? (?:mm|in|N|lbf|kg|lb|%|°))?"
)
"""A figure, with its uncertainty and unit where it has them."""
BARE = re.compile(r"[^A-Za-zµ°%]*")
"""Nothing but digits and signs."""
CODE = re.compile(
    r"(?=[^ ]*\d)[\w()./–-]+|[a-z]\w*(?:\.\w+)+|[a-z]+(?:_[a-z0-9]+)+|[a-z0-9]+(?:-[a-z0-9]+){2,}"
    r"|(?:\d+ )?[A-Z]{2,5} [A-Z]{0,3}-?\d[\w.–-]*"
)
"""A key, a number of a clause, a standard (ASME B30.16): nothing that a language translates."""
DAY = re.compile(r"\d{4}-\d\d-\d\d")

OWN = "own_"
"""How the name of a place begins whose content is not to be translated."""


@attrs.frozen
class Template:
    """A sentence with places to fill."""

    text: str
    chunks: tuple[str, ...] = attrs.field(eq=False, repr=False)
    """What stands between the places."""

    @property
    def fixed(self) -> int:
        """Characters of it that are the sentence's own."""
        return sum(map(len, self.chunks))

    def places(self, text: str) -> dict[str, str] | None:
        """What stands in the places of a text that it fits; None where it does not fit."""
        if not all(chunk in text for chunk in self.chunks):
            return None
        found = _pattern(self.text).fullmatch(text)
        return found.groupdict() if found else None


def template(text: str) -> Template:
    """A sentence with places, ready to be held against texts.

    >>> template("at most %(limit)s").places("at most 2.5 mm")
    {'limit': '2.5 mm'}
    >>> template("at most %(limit)s").places("at least 2.5 mm")
    """
    return Template(text, tuple(chunk for chunk in PLACE.split(text)[::2] if chunk))


@functools.cache
def _pattern(text: str) -> re.Pattern[str]:
    """The pattern of a template: made when a text may fit it, for there are hundreds of them."""
    out, end, seen = "", 0, set[str]()
    for place in PLACE.finditer(text):
        name = place[1]
        out += re.escape(text[end : place.start()])
        out += f"(?P={name})" if name in seen else f"(?P<{name}>.+?)"
        seen.add(name)
        end = place.end()
    return re.compile(out + re.escape(text[end:]), re.DOTALL)


def templates(texts: Iterable[str]) -> tuple[Template, ...]:
    """Those of the texts that have places, the longest first: it says the most."""
    made = (template(text) for text in texts if PLACE.search(text))
    return tuple(sorted(made, key=lambda item: (-item.fixed, item.text)))


def cuts(text: str) -> Iterator[tuple[str, str, str]]:
    """Ways to cut a text that is not known whole: before, the marks between, after.

    >>> list(cuts("Ask first. Then begin."))
    [('Ask first.', ' ', 'Then begin.')]
    >>> list(cuts("at least 3 mm; at most 5 mm"))
    [('at least 3 mm', '; ', 'at most 5 mm')]
    """
    for pattern in (r"(?<=[.!?])( )(?=\S)", r"(; )", r"(: )", r"(, )"):
        for mark in re.finditer(pattern, text):
            yield text[: mark.start()], mark[1], text[mark.end() :]


def day_of(text: str) -> datetime.date | None:
    """The day that a text is, and nothing else.

    >>> day_of("2026-11-25"), day_of("26-11")
    (datetime.date(2026, 11, 25), None)
    """
    if not DAY.fullmatch(text):
        return None
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        return None


@attrs.frozen
class Put:
    """A text in a language, and the pieces of it that have no translation."""

    text: str
    lacking: tuple[str, ...] = ()


@attrs.frozen
class Translator:
    """Puts English texts into one language, by whole texts and by templates."""

    texts: Mapping[str, str] = attrs.field(repr=False, eq=False)
    """Every text that the catalogues have, with its translation; blanks made single."""
    templates: tuple[Template, ...] = attrs.field(repr=False, eq=False)
    decimal: str
    write_day: Callable[[datetime.date], str] = attrs.field(repr=False, eq=False)
    marks: Mapping[str, str] = attrs.field(factory=dict)
    """How the language writes the marks between two pieces."""
    _done: dict[str, Put] = attrs.field(factory=dict, repr=False, eq=False, init=False)

    def put(self, text: str) -> Put:
        """The text in the language; what is not known of it stays in English."""
        if text not in self._done:
            if len(self._done) > MOST_KEPT:
                self._done.clear()
            self._done[text] = self._kept(text)
        return self._done[text]

    def _kept(self, text: str) -> Put:
        """With the blanks around it as they are, those inside made single."""
        bare = text.strip()
        if not bare:
            return Put(text)
        made = self._put(" ".join(bare.split()))
        return Put(text.replace(bare, made.text), made.lacking)

    def _put(self, text: str) -> Put:
        """A text with single blanks."""
        day = day_of(text)
        if day:
            return Put(self.write_day(day))
        if BARE.fullmatch(text):  # a clause may be numbered 5.2: only a place makes it a figure
            return Put(text)
        if FIGURE.fullmatch(text):
            return Put(figure(text, self.decimal))
        whole = self._whole(text)
        if whole or CODE.fullmatch(text):
            return Put(whole or text)
        return self._best(text)

    def _whole(self, text: str) -> str:
        """The translation of a text as it stands, with another first letter, or full stop."""
        first, rest = text[0], text[1:]
        for start, change in ((first, str), (first.lower(), str.upper), (first.upper(), str.lower)):
            found = self.texts.get(start + rest, "")
            if found:
                return change(found[0]) + found[1:]
        return f"{self._whole(text[:-1])}." if text.endswith(".") and text[:-1] in self else ""

    def __contains__(self, text: str) -> bool:
        return bool(text) and bool(self._whole(text))

    def _best(self, text: str) -> Put:
        """The reading of a text that leaves the least of it in English."""
        best = Put(text, (text,))
        for made in self._readings(text):
            if not made.lacking:
                return made
            if sum(map(len, made.lacking)) < sum(map(len, best.lacking)):
                best = made
        return best

    def _readings(self, text: str) -> Iterator[Put]:
        yield from self._by_templates(text)
        if text[0].isupper():
            for made in self._by_templates(text[0].lower() + text[1:]):
                yield Put(made.text[0].upper() + made.text[1:], made.lacking)
        if text[0] == "(" and text[-1] == ")":
            made = self.put(text[1:-1])
            yield Put(f"({made.text})", made.lacking)
        if text.endswith("."):
            made = self.put(text[:-1])
            if not made.lacking:
                yield Put(f"{made.text}.")
        for head, mark, tail in cuts(text):
            before = self.put(head)
            if not before.lacking:
                after = self.put(tail)
                yield Put(before.text + self.marks.get(mark, mark) + after.text, after.lacking)

    def _by_templates(self, text: str) -> Iterator[Put]:
        for item in self.templates:
            held = item.places(text)
            if held is not None:
                made = self._filled(item, held)
                if item.fixed >= TELLING or not made.lacking:
                    yield made

    def _filled(self, item: Template, held: Mapping[str, str]) -> Put:
        own = {name: Put(value) for name, value in held.items() if name.startswith(OWN)}
        put = own | {n: self._held(value) for n, value in held.items() if n not in own}
        said = self.texts[item.text] % {name: value.text for name, value in put.items()}
        return Put(said, tuple(piece for value in put.values() for piece in value.lacking))

    def _held(self, value: str) -> Put:
        """What stands in a place of a template."""
        if FIGURE.fullmatch(value):
            return Put(figure(value, self.decimal))
        return self.put(value)


TELLING = 8
"""Characters of its own that a template needs to be taken where a place stays in English."""

MOST_KEPT = 20_000
"""Texts kept in memory; beyond them it begins anew."""


def figure(text: str, decimal: str) -> str:
    """Figures with another decimal mark.

    >>> figure("2.71 ± 0.13 mm", ",")
    '2,71 ± 0,13 mm'
    """
    return re.sub(r"(?<=\d)\.(?=\d)", decimal, text)
