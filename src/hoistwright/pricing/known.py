"""The parts of the shipped designs, and which of them a price list has no price for."""

from __future__ import annotations

import functools
from collections.abc import Mapping

from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.renew.prices import PriceBook

WHOLE_HOIST = "hoist"


@functools.cache
def shipped_parts() -> Mapping[str, frozenset[str]]:
    """The part keys of every shipped design."""
    return {key: frozenset(part.key for part in shipped(key).parts) for key in shipped_keys()}


def without_price(book: PriceBook, design: Design) -> tuple[str, ...]:
    """The parts of a design that the list has no price for, in the order of its parts list."""
    prices = book.of_design(design.key)
    return tuple(
        part.key
        for part in design.parts
        if part.role != WHOLE_HOIST and prices.price(part.key, 1) is None
    )
