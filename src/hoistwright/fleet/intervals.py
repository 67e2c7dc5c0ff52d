"""Which interval of the adopted bases is for a hoist."""

from __future__ import annotations

from collections.abc import Sequence

from hoistwright.basis.model import Basis, Interval
from hoistwright.job.events_release import ExitChosen
from hoistwright.job.next_due import intervals_of

_USUAL = ExitChosen(exit="released")


def interval_of(
    bases: Sequence[Basis], service: str, chosen: ExitChosen | None = None
) -> Interval | None:
    """The shortest interval between visits to a workshop; None where no basis states one.

    Args:
        bases: those the hoist is judged by.
        service: its service class.
        chosen: how it left last, with its kind of examination; None: the usual one.

    References:
        as `job.next_due.intervals_of`.

    >>> from hoistwright.basis.loading import shipped_basis
    >>> found = interval_of([shipped_basis("b30-hand-hoists")], "heavy")
    >>> found.name, found.months
    ('heavy service', 6)
    """
    found = intervals_of(bases, service, chosen or _USUAL)
    return min(found, key=lambda item: 30.4369 * item.months + item.days, default=None)
