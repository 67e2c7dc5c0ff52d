"""Days, numbers and file names as people type them: a slip is answered in plain words."""

from __future__ import annotations

import argparse
import datetime
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from hoistwright.job.shop import Shop


def day(text: str) -> datetime.date:
    """A day such as 2026-03-09."""
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"{text!r} is no day; expected year-month-day, such as 2026-03-09"
        ) from None


def part_of_one(text: str) -> Fraction:
    """A part such as 1/2 or 0.25."""
    try:
        return Fraction(text)
    except (ValueError, ZeroDivisionError):
        raise argparse.ArgumentTypeError(
            f"{text!r} is no number; expected a part such as 1/2 or 0.25"
        ) from None


def with_ending(name: str, endings: Sequence[str]) -> Path:
    """A file to write, by its ending.

    Raises FaultsError where it has none of the endings.
    """
    from hoistwright.faults import Fault, FaultsError, Place

    path = Path(name)
    if path.suffix.lower() not in endings:
        read = f"the ending {path.suffix!r}" if path.suffix else "a name without an ending"
        expected = f"a name ending in {', '.join(endings[:-1])} or {endings[-1]}"
        raise FaultsError([Fault(Place(file=name), read, expected)])
    return path


def latest_day(shop: Shop) -> datetime.date | None:
    """The last day on which a hoist can have been examined. The demo shop's days are invented."""
    return None if shop.demo else datetime.date.today()
