"""What only a look at the whole list shows: numbers twice, circles, two currencies, wrong parts."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from hoistwright.faults import Fault
from hoistwright.pricing.rows import Pair, Read
from hoistwright.sheet.columns import nearest
from hoistwright.sheet.raw import Cell

Parts = Mapping[str, Collection[str]]
"""The keys of the parts of each design that is known."""

Fit = tuple[Pair, str, Cell]
"""Design and part, the number that fits, and where it says so."""


def whole_faults(
    read: Sequence[Read], fits: Sequence[Fit], currency: str, known: Parts
) -> Iterator[Fault]:
    """Every fault of the list as a whole."""
    yield from _twice(read)
    yield from _currencies(read, currency)
    yield from _replaced(read)
    yield from _fits(read, fits, known)


def _twice(read: Sequence[Read]) -> Iterator[Fault]:
    seen: dict[str, Cell] = {}
    for item in read:
        cell, key = item.row["number"], item.line.number.casefold()
        if key in seen:
            first = seen[key].place
            where = f"row {first.row}" if first.row else f"line {first.line}"
            yield cell.fault(
                "each part number once", read=f"{cell.read} a second time (first in {where})"
            )
        seen.setdefault(key, cell)


def _currencies(read: Sequence[Read], currency: str) -> Iterator[Fault]:
    wanted = currency or next((item.currency for item in read if item.currency), "")
    for item in read:
        if item.currency and item.currency != wanted:
            cell = item.at("currency") if item.at("currency").text else item.at("price")
            yield cell.fault(f"{wanted}, as the rest of the list", "Make a list for each currency.")
    if not wanted and any(item.line.price is not None for item in read):
        cell = next(item.at("price") for item in read if item.line.price is not None)
        mend = "Add a column currency, or type prices such as GBP 12.50."
        yield cell.fault("a price with its currency", mend)


def _replaced(read: Sequence[Read]) -> Iterator[Fault]:
    """Numbers that lead nowhere, or round in a circle."""
    by = {item.line.number: item.line.replaced_by for item in read}
    told: set[str] = set()
    for item in read:
        cell, next_one = item.at("replaced by"), item.line.replaced_by
        if next_one and next_one not in by:
            mend = nearest(next_one, by) or "Add a row for it."
            yield cell.fault("a part number of this list", mend)
            continue
        circle = _circle(item.line.number, by)
        if circle and not told & set(circle):
            told |= set(circle)
            read_ = " → ".join([*circle, circle[0]])
            yield cell.fault("a last number that stands on its own", read=read_)


def _circle(start: str, by: Mapping[str, str]) -> list[str]:
    way = [start]
    while by.get(way[-1]):
        following = by[way[-1]]
        if following in way:
            return way[way.index(following) :]
        way.append(following)
    return []


def _fits(read: Sequence[Read], fits: Sequence[Fit], known: Parts) -> Iterator[Fault]:
    numbers = {item.line.number for item in read}
    taken: dict[Pair, str] = {}
    for (design, part), number, cell in fits:
        pair = f"{design}:{part}"
        if number not in numbers:
            yield cell.fault("a part number of this list", nearest(number, numbers))
        if design in known and part not in known[design]:
            mend = nearest(part, known[design]) or "The parts list of the design has the keys."
            yield cell.fault(f"a part of {design}", mend, read=f"'{pair}'")
        other = taken.setdefault((design, part), number)
        if other != number:
            yield cell.fault(f"one number for {pair}; {other} fits it, too", read=f"'{number}'")
