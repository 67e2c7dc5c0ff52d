"""The four verdict words, and which of them wins upward."""

from __future__ import annotations

from collections.abc import Iterable
from enum import IntEnum


class Outcome(IntEnum):
    """A verdict on a criterion, a part or a hoist; the greater one wins upward.

    RENEW stands above NOT_ESTABLISHED: a part known to be beyond its limit stays so, whatever
    else is missing. NOT_ESTABLISHED stands above BORDERLINE: nothing is known of it at all.
    """

    FIT = 0
    BORDERLINE = 1
    NOT_ESTABLISHED = 2
    RENEW = 3

    @property
    def words(self) -> str:
        """The word shown to people."""
        return self.name.lower().replace("_", " ")


def worst(outcomes: Iterable[Outcome]) -> Outcome:
    """The worst of the outcomes; of none, NOT_ESTABLISHED, since nothing was looked at.

    >>> worst([Outcome.FIT, Outcome.BORDERLINE]).words
    'borderline'
    >>> worst([]).words
    'not established'
    """
    return max(outcomes, default=Outcome.NOT_ESTABLISHED)
