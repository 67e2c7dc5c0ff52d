"""Sets of steps as the bits of whole numbers: unions and tests at machine speed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator


def members(mask: int) -> Iterator[int]:
    """The places of the set bits, lowest first.

    >>> list(members(0b1101))
    [0, 2, 3]
    """
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def mask_of(places: Iterable[int]) -> int:
    """The number whose bits at `places` are set.

    >>> bin(mask_of([0, 2, 3]))
    '0b1101'
    """
    mask = 0
    for place in places:
        mask |= 1 << place
    return mask


def is_single(mask: int) -> bool:
    """Exactly one bit set?"""
    return mask != 0 and mask & (mask - 1) == 0
