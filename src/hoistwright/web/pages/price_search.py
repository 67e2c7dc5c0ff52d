"""Finding lines of a price list by what somebody types."""

from __future__ import annotations

import attrs

from hoistwright.renew.prices import PriceBook, PriceLine


@attrs.frozen(kw_only=True)
class FoundLine:
    """A line with what it fits: designs, each with the keys of its parts."""

    line: PriceLine
    fits: tuple[str, ...]


def found_lines(book: PriceBook, text: str) -> list[FoundLine]:
    """The lines that hold every word typed, in the order of their numbers; all for no word."""
    fits: dict[str, list[str]] = {}
    for (design, part), number in book.fits.items():
        fits.setdefault(number, []).append(f"{design} {part.replace('_', ' ')}")
    words = text.casefold().split()
    return [
        FoundLine(line=line, fits=tuple(fits.get(number, ())))
        for number, line in sorted(book.lines.items())
        if all(word in _haystack(line, fits.get(number, ())) for word in words)
    ]


def _haystack(line: PriceLine, fits: list[str] | tuple[str, ...]) -> str:
    return " ".join((line.number, line.name, line.replaced_by, *fits)).casefold()
