"""Amounts of money as people type them, in whole minor units, so that sums are exact."""

from __future__ import annotations

import re

SYMBOLS = {"£": "GBP", "€": "EUR"}
"""Signs that stand for one currency only. The dollar's does not."""

_CODE = r"[A-Z]{3}|[£€$]"
_TYPED = re.compile(
    rf"(?P<before>{_CODE})?\s*(?P<figure>-?[0-9 .,'\u00a0\u202f]*[0-9])\s*(?P<after>{_CODE})?"
)
_PLAIN = re.compile(r"([0-9]+)(?:[.,]([0-9]{1,2}))?")
_GROUPED = re.compile(
    r"[0-9]{1,3}(?:([ ,.'\u00a0\u202f])[0-9]{3})(?:\1[0-9]{3})*(?:(?!\1)[.,][0-9]{1,2})?"
)


class MoneyError(ValueError):
    """A text that is no amount; says what may stand there."""

    def __init__(self, read: str, expected: str, mend: str = "") -> None:
        super().__init__(f"read {read}; expected {expected}. {mend}".rstrip(". ") + ".")
        self.read, self.expected, self.mend = read, expected, mend


def amount_of(text: str) -> tuple[int, str]:
    """An amount in minor units (pence, cents), and its currency, empty where none is typed.

    The mark before one or two last digits is the decimal mark, be it point or comma. A mark
    before exactly three digits could be either: such a figure is not guessed at.

    Args:
        text: such as "12.50", "GBP 1,234.50", "1 234,50 EUR".

    Returns:
        Minor units (hundredths), and a three-letter code of ISO 4217.

    Raises:
        MoneyError: no amount, below zero, or one that can be read in two ways.

    References:
        currency codes: ISO 4217; hundredths as minor unit hold for most of them.

    >>> amount_of("GBP 1,234.50"), amount_of("12,5 €"), amount_of("7")
    ((123450, 'GBP'), (1250, 'EUR'), (700, ''))
    """
    found = _TYPED.fullmatch(text.strip())
    if found is None or (found["before"] and found["after"]):
        raise MoneyError(repr(text), "an amount such as 12.50 or GBP 12.50")
    code = found["before"] or found["after"] or ""
    if code == "$":
        raise MoneyError(repr(text), "a currency by its code", "Type USD, CAD, AUD and so on.")
    return _hundredths(found["figure"], text), SYMBOLS.get(code, code)


def _hundredths(figure: str, text: str) -> int:
    if figure.startswith("-"):
        raise MoneyError(repr(text), "an amount of zero or more")
    plain = _PLAIN.fullmatch(figure)
    if plain is None:
        plain = _PLAIN.fullmatch(_ungrouped(figure, text))
    if plain is None or len(plain[1]) > 9:
        raise MoneyError(repr(text), "an amount such as 12.50 or 1,234.50")
    return 100 * int(plain[1]) + int((plain[2] or "0").ljust(2, "0"))


def _ungrouped(figure: str, text: str) -> str:
    """The figure without marks between its thousands."""
    grouped = _GROUPED.fullmatch(figure)
    if grouped is None:
        return figure
    mark = grouped[1]
    if mark in ",." and re.fullmatch(r"[0-9]{1,3}[.,][0-9]{3}", figure):
        whole = figure.replace(mark, "")
        raise MoneyError(
            repr(text), "an amount that can be read in one way only", f"Type {whole}.00 if so."
        )
    return figure.replace(mark, "")


def money(amount: int, currency: str) -> str:
    """An amount in minor units as people write it.

    >>> money(1234567, "GBP"), money(-5, "EUR")
    ('GBP 12,345.67', '-EUR 0.05')
    """
    sign = "-" if amount < 0 else ""
    return f"{sign}{currency} {abs(amount) // 100:,}.{abs(amount) % 100:02d}"
