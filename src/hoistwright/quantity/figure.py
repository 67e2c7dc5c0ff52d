"""Turn the figure that a person typed into an exact fraction.

Decided here, once: exponents ("1e3"), hexadecimal and underscores are refused in text,
because in a hand-typed cell they are slips far more often than figures; a data file's own
number type may of course hold any finite value.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

from hoistwright.quantity.errors import QuantityError

LONGEST = 64  # characters; a longer cell is not a figure, and huge integers cost time

_FRACTION = re.compile(r"(?:(\d+)(?: +|-))?(\d+) ?/ ?(\d+)(?![\d.,/])(.*)", re.DOTALL)
_DECIMAL = re.compile(r"([\d.,](?:[\d., ]*[\d.,])?) *(.*)", re.DOTALL)
_SPACED = re.compile(r"\d{1,3}(?: \d{3})+(?:[.,]\d+)?")
_SAME = {
    "\u2212": "-", "\u2010": "-", "\u2011": "-", "\u2013": "-", "\ufe63": "-", "\uff0d": "-",
    "\uff0b": "+", "\u2044": "/", "\u2215": "/", "\uff0c": ",", "\uff0e": ".",
    "\u2033": '"', "\u201d": '"', "\u201c": '"', "\u2032": "'", "\u2019": "'",
}  # fmt: skip


def plain(text: str) -> str:
    """The same text in plain signs: ASCII digits, minus and spaces; invisible signs dropped."""
    return re.sub(r"\s+", " ", "".join(_plain_sign(sign) for sign in text)).strip()


def _plain_sign(sign: str) -> str:
    if sign in _SAME:
        return _SAME[sign]
    category = unicodedata.category(sign)
    if category == "Nd":
        return str(unicodedata.decimal(sign))
    if category == "Cf":  # byte order mark, direction marks: nobody can see, so nobody can mend
        return ""
    if category == "No" and unicodedata.decomposition(sign).startswith("<fraction>"):
        return " " + unicodedata.normalize("NFKC", sign).replace("\u2044", "/")
    return sign


def split_figure(text: str, decimal: str | None, expected: str) -> tuple[Fraction, str]:
    """The figure at the start of `text`, exactly, and what stands after it.

    Args:
        text: what was typed.
        decimal: "." or "," where the decimal mark is known, None where both are met.
        expected: the words for the error.

    Raises:
        QuantityError: no figure, a figure that can be read in two ways, or wrong grouping.

    >>> split_figure("1-1/4 in", None, "a length")
    (Fraction(5, 4), 'in')
    """
    if len(text) > LONGEST:
        raise QuantityError(f"{len(text)} characters, '{text[:20]}…'", expected)
    body = plain(text)
    sign, body = _take_sign(body)
    if match := _FRACTION.fullmatch(body):
        return sign * _fraction(match, text, expected), match[4].strip()
    match = _DECIMAL.fullmatch(body)
    if match is None or not any(c.isdigit() for c in match[1]):
        raise QuantityError(f"'{text}'" if body else "nothing", expected)
    rest = match[2]
    if re.match(r"[eE][+-]?\d|[xX][0-9a-fA-F]|_", rest):
        raise QuantityError(f"'{text}'", expected, "Write the figure out in full, in digits")
    return sign * _decimal(match[1], decimal, text, expected), rest


def _take_sign(body: str) -> tuple[int, str]:
    if body[:1] in ("-", "+"):
        return (-1 if body[0] == "-" else 1), body[1:].lstrip()
    return 1, body


def _fraction(match: re.Match[str], text: str, expected: str) -> Fraction:
    whole, top, bottom = int(match[1] or 0), int(match[2]), int(match[3])
    if bottom == 0:
        raise QuantityError(f"'{text}'", expected, "A fraction cannot have 0 below the line")
    if match[1] is not None and top >= bottom:
        raise QuantityError(f"'{text}'", expected, "After a whole number, the fraction is below 1")
    return whole + Fraction(top, bottom)


def _decimal(body: str, decimal: str | None, text: str, expected: str) -> Fraction:
    """A figure of digits, decimal mark and thousands separators."""
    mark = _decimal_mark(body, decimal, text, expected)
    whole, _, part = body.rpartition(mark) if mark else (body, "", "")
    if mark and (not part.isdigit() or not _grouped(whole, mark)):
        raise _wrong_marks(text, decimal, expected)
    if not mark and not _grouped(whole, decimal or ""):
        raise _wrong_marks(text, decimal, expected)
    digits = re.sub(r"[ .,]", "", whole) or "0"
    return Fraction(f"{digits}.{part or '0'}")


def _decimal_mark(body: str, decimal: str | None, text: str, expected: str) -> str:
    """The decimal mark that this figure uses, or "" where it has none."""
    if decimal is not None:
        return decimal if decimal in body else ""
    marks = [sign for sign in body if sign in ".,"]
    if not marks or (len(marks) > 1 and len(set(marks)) == 1):
        return ""  # none, or 1,250,000: the one mark can only separate thousands
    if len(marks) == 1 and re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", body):
        raise _two_readings(body, marks[0], text, expected)
    return marks[-1]


def _grouped(whole: str, mark: str) -> bool:
    """True where the thousands are not separated, or separated rightly by one kind of sign."""
    if whole == "" or whole.isdigit():
        return whole != "" or mark != ""  # ".5" is a figure, "" is not
    separators = {sign for sign in whole if not sign.isdigit()}
    if len(separators) != 1 or mark in separators:
        return False
    return re.fullmatch(r"\d{1,3}([ .,]\d{3})+", whole) is not None


def _two_readings(body: str, mark: str, text: str, expected: str) -> QuantityError:
    whole, part = body.split(mark)
    return QuantityError(
        f"'{text}', which can be read as {whole}{part} or as {whole}.{part}",
        expected,
        f"Leave out the thousands separator ({whole}{part}), or write one more or one fewer "
        "decimal, or state the decimal mark",
    )


def _wrong_marks(text: str, decimal: str | None, expected: str) -> QuantityError:
    known = f" with '{decimal}' as the decimal mark" if decimal else ""
    mend = "A thousands separator stands before every three digits; a decimal mark stands once"
    return QuantityError(f"'{text}'{known}", expected, mend)
