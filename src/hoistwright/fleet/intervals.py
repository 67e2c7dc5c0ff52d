"""Which interval of the adopted bases is for a hoist."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hoistwright.basis.model import Basis, Interval
from hoistwright.job.job_sheet import ServiceClass

OTHER = "other lifting equipment"
"""The interval of a basis that knows no service classes, for a hoist that lifts no persons."""


def intervals_for(bases: Sequence[Basis], service: ServiceClass) -> tuple[Interval, ...]:
    """Intervals between visits to a workshop: periodic and thorough ones, not the user's own
    frequent inspections.

    Args:
        bases: those the hoist is judged by.
        service: its service class.

    Returns:
        Every interval that is for it; empty where no basis states one. Hoists that lift persons
        or count as accessories come sooner: the competent person says so.

    References:
        the bases' own files.

    >>> from hoistwright.basis.loading import shipped_basis
    >>> found = intervals_for([shipped_basis("b30-hand-hoists")], "heavy")
    >>> [(i.name, i.months) for i in found]
    [('heavy service', 6)]
    """
    return tuple(_wanted(bases, service))


def interval_of(bases: Sequence[Basis], service: ServiceClass) -> Interval | None:
    """The shortest of them; None where no basis states one."""
    found = intervals_for(bases, service)
    return min(found, key=lambda i: 30.4369 * i.months + i.days, default=None)


def _wanted(bases: Sequence[Basis], service: ServiceClass) -> Iterator[Interval]:
    for basis in bases:
        for interval in basis.head.interval:
            if interval.kind != "frequent" and interval.name in (f"{service} service", OTHER):
                yield interval
