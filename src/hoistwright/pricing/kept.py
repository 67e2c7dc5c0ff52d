"""A price list as text to be kept, and back. The same list gives the same text."""

from __future__ import annotations

import json
from typing import Any

import attrs

from hoistwright.renew.prices import PriceBook, PriceLine


def book_text(book: PriceBook) -> str:
    """The list as JSON."""
    table = {
        "currency": book.currency,
        "lines": [attrs.asdict(book.lines[number]) for number in sorted(book.lines)],
        "fits": [[*pair, book.fits[pair]] for pair in sorted(book.fits)],
    }
    return json.dumps(table, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def book_of(text: str) -> PriceBook:
    """The list out of its text; an empty text is an empty list."""
    if not text:
        return PriceBook()
    table: dict[str, Any] = json.loads(text)
    lines = [PriceLine(**line) for line in table["lines"]]
    return PriceBook(
        currency=table["currency"],
        lines={line.number: line for line in lines},
        fits={(design, part): number for design, part, number in table["fits"]},
    )
