"""What a new price list changes in the one before it, line by line."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

import attrs

from hoistwright.renew.prices import PriceBook, PriceLine

What = Literal["new", "gone", "price", "stock", "lead time", "replaced by", "name", "fits"]


@attrs.frozen(kw_only=True)
class Change:
    """One thing that differs. `before` and `after` are as the lists have them: an amount in
    minor units, a number of pieces or days, a part number; None for nothing.
    """

    number: str
    name: str
    what: What
    before: int | str | None = None
    after: int | str | None = None


_FIELDS: tuple[tuple[What, str], ...] = (
    ("price", "price"),
    ("stock", "stock"),
    ("lead time", "lead_days"),
    ("replaced by", "replaced_by"),
    ("name", "name"),
)


def changes(before: PriceBook, after: PriceBook) -> tuple[Change, ...]:
    """What is new, gone or different, in the order of part numbers.

    Args:
        before: the list in use.
        after: the list that is to take its place.

    Returns:
        One change for each thing; empty where the two say the same.

    References:
        comparison of two lists; no outside source.

    >>> old = PriceBook(lines={"P-1": PriceLine(number="P-1", price=900)})
    >>> new = PriceBook(lines={"P-1": PriceLine(number="P-1", price=950)})
    >>> [(c.number, c.what, c.before, c.after) for c in changes(old, new)]
    [('P-1', 'price', 900, 950)]
    """
    numbers = sorted({*before.lines, *after.lines})
    return tuple(
        change
        for number in numbers
        for change in _of_line(number, before.lines.get(number), after.lines.get(number))
    ) + tuple(_fits(before, after))


def _of_line(number: str, old: PriceLine | None, new: PriceLine | None) -> Iterator[Change]:
    if old is None and new is not None:
        yield Change(number=number, name=new.name, what="new", after=new.price)
    elif new is None and old is not None:
        yield Change(number=number, name=old.name, what="gone", before=old.price)
    elif old is not None and new is not None:
        for what, field in _FIELDS:
            was, becomes = getattr(old, field), getattr(new, field)
            if was != becomes:
                yield Change(number=number, name=new.name, what=what, before=was, after=becomes)


def _fits(before: PriceBook, after: PriceBook) -> Iterator[Change]:
    for key in sorted({*before.fits, *after.fits}):
        was, becomes = before.fits.get(key), after.fits.get(key)
        if was != becomes:
            yield Change(
                number=becomes or was or "", name=" ".join(key), what="fits",
                before=was, after=becomes,
            )  # fmt: skip
