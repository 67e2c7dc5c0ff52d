"""Which characters our typeface can show, and a visible note in place of those it cannot.

A typesetter leaves a character without a glyph out, or prints an empty box; on a report that
would be a silent change of a name. So every text goes through `shown` first.
"""

from __future__ import annotations

import functools
import re
import struct
import unicodedata
from collections.abc import Iterator
from importlib import resources
from pathlib import Path
from typing import Any

_BREAK = "\u200b"
"""Zero width space: a place where a long word may be broken."""

_LONG = re.compile(r"[^\s\-/]{19,}")
"""A word that may be wider than a column. Lines break at spaces, hyphens and strokes anyway."""

_PIECE = 16


def font_folder() -> Path:
    """The folder of the typefaces that come with the program."""
    return Path(str(resources.files("hoistwright.certificate"))) / "fonts"


@functools.cache
def coverage() -> frozenset[int]:
    """Code points that both weights of our typeface, or the signs beside it, have a glyph for."""
    regular, bold, signs = (
        _mapped((font_folder() / f"{name}.ttf").read_bytes())
        for name in ("NotoSans-Regular", "NotoSans-Bold", "NotoSansMath-Regular")
    )
    return (regular & bold) | signs


def shown(text: str) -> str:
    r"""`text` as it can be printed: white space made plain, what has no glyph named by its number.

    >>> shown("Łódź"), shown("a\tb"), shown("\u5cb8 1")
    ('Łódź', 'a b', '‹U+5CB8› 1')
    """
    if text.isascii() and text.isprintable():
        return text
    composed = unicodedata.normalize("NFC", text)
    return "".join(_one(sign) for sign in composed)


def breakable(text: str) -> str:
    """`text` with places to break in words that are longer than a column is wide."""
    return _LONG.sub(lambda found: _broken(found.group()), text)


def missing(text: str) -> frozenset[str]:
    """The characters of `text` that `shown` replaces."""
    if text.isascii() and text.isprintable():
        return frozenset()
    return frozenset(c for c in unicodedata.normalize("NFC", text) if _one(c)[0] == "‹" != c)


def printable(data: Any) -> tuple[Any, frozenset[str]]:
    """The same data with every text printable, and the characters that had to be replaced.

    Keys are left alone, and so are pictures (texts that begin with "<svg").
    """
    found: set[str] = set()

    def walk(value: Any) -> Any:
        if isinstance(value, str):
            if value.startswith("<svg"):
                return value
            found.update(missing(value))
            return breakable(shown(value))
        if isinstance(value, dict):
            return {key: walk(item) for key, item in value.items()}
        if isinstance(value, list | tuple):
            return [walk(item) for item in value]
        return value

    return walk(data), frozenset(found)


def names_of(signs: frozenset[str]) -> str:
    """Numbers and Unicode names of characters, for the remark under a report."""
    named = (f"U+{ord(sign):04X} {unicodedata.name(sign, '')}".strip() for sign in sorted(signs))
    return "; ".join(named)


def _one(sign: str) -> str:
    if sign in "\t\n\r\v\f\u2028\u2029":
        return " "
    hidden = unicodedata.category(sign) in ("Cc", "Cf", "Cs", "Co", "Cn")
    if hidden or ord(sign) not in coverage():
        return f"‹U+{ord(sign):04X}›"
    return sign


def _broken(word: str) -> str:
    return _BREAK.join(word[at : at + _PIECE] for at in range(0, len(word), _PIECE))


def _mapped(font: bytes) -> frozenset[int]:
    """Code points of a TrueType font's Unicode table.

    References:
        OpenType specification, `cmap` table, formats 4 and 12; from memory.
    """
    (tables,) = struct.unpack_from(">H", font, 4)
    for number in range(tables):
        tag, _, offset, _ = struct.unpack_from(">4sLLL", font, 12 + 16 * number)
        if tag == b"cmap":
            return frozenset(_of_cmap(font, offset))
    raise ValueError("the font has no cmap table; expected a TrueType font")


def _of_cmap(font: bytes, start: int) -> Iterator[int]:
    (count,) = struct.unpack_from(">H", font, start + 2)
    for number in range(count):
        _, _, offset = struct.unpack_from(">HHL", font, start + 4 + 8 * number)
        (kind,) = struct.unpack_from(">H", font, start + offset)
        if kind == 4:
            yield from _format_4(font, start + offset)
        elif kind == 12:
            yield from _format_12(font, start + offset)


def _format_4(font: bytes, at: int) -> Iterator[int]:
    (twice,) = struct.unpack_from(">H", font, at + 6)
    ends = struct.unpack_from(f">{twice // 2}H", font, at + 14)
    starts = struct.unpack_from(f">{twice // 2}H", font, at + 16 + twice)
    for first, last in zip(starts, ends, strict=True):
        yield from range(first, last + 1 if last < 0xFFFF else last)


def _format_12(font: bytes, at: int) -> Iterator[int]:
    (groups,) = struct.unpack_from(">L", font, at + 12)
    for number in range(groups):
        first, last, _ = struct.unpack_from(">LLL", font, at + 16 + 12 * number)
        yield from range(first, last + 1)
