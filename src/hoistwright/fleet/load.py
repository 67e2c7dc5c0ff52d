"""What the coming weeks bring to the shop: hoists, hours, and parts to have ready."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping, Sequence

import attrs

from hoistwright.fleet.due import Due
from hoistwright.fleet.forecasts import Fleet
from hoistwright.fleet.words import monday
from hoistwright.hoist.design import Design

LEAST_CHANCE = 0.02
"""Parts less likely to be needed are not counted."""


@attrs.frozen(kw_only=True)
class Week:
    """Hoists expected in the week from `monday`, and the hours to strip and rebuild them."""

    monday: datetime.date
    hoists: tuple[Due, ...]
    hours: float


@attrs.frozen(kw_only=True)
class Wanted:
    """Pieces of one part of one design that will be needed, as a mean over what may happen."""

    design: str
    part: str
    part_name: str
    pieces: float
    hoists: int
    """How many of the hoists have at least an even chance of needing it."""


@attrs.frozen(kw_only=True)
class Load:
    """`overdue`: may come any day. `no_hours`: hoists of unknown design, counted without hours."""

    overdue: tuple[Due, ...]
    overdue_hours: float
    weeks: tuple[Week, ...]
    wanted: tuple[Wanted, ...]
    no_hours: int


Labour = Callable[[Design], float]
"""Seconds to strip and rebuild a hoist of a design."""


def load_ahead(
    fleet: Fleet, due: Sequence[Due], today: datetime.date, weeks: int, labour: Labour
) -> Load:
    """The hoists due in the coming weeks with their labour, and the parts they will need.

    A hoist counts in the week in which it is due. Hours are those of a full strip and rebuild;
    Pieces = Σ P(not called fit when it comes) over hoists, times the pieces of the part.

    Args:
        fleet: forecast.
        due: hoists with their days.
        today: the day.
        weeks: how many, the running one first.
        labour: time for a design.

    Returns:
        The load, week after week.

    References:
        expectation of independent events; times of the design's take-apart graph.
    """
    first = monday(today)
    end = first + datetime.timedelta(weeks=weeks)
    ahead = [item for item in due if item.day < end]
    hours = {name: labour(design) / 3600 for name, design in fleet.known.designs.items()}

    def total(items: Sequence[Due]) -> float:
        return sum(hours.get(item.last.design, 0.0) for item in items)

    late = tuple(item for item in ahead if item.day < today)
    found = []
    for number in range(weeks):
        start = first + datetime.timedelta(weeks=number)
        here = tuple(i for i in ahead if i not in late and monday(i.day) == start)
        found.append(Week(monday=start, hoists=here, hours=total(here)))
    return Load(
        overdue=late,
        overdue_hours=total(late),
        weeks=tuple(found),
        wanted=_wanted(fleet, ahead, today),
        no_hours=sum(item.last.design not in hours for item in ahead),
    )


def _wanted(fleet: Fleet, due: Sequence[Due], today: datetime.date) -> tuple[Wanted, ...]:
    chances: dict[tuple[str, str], list[float]] = {}
    for item in due:
        comes = max(item.day, today)
        for part, chance in part_chances(fleet, item.hoist, comes).items():
            if chance >= LEAST_CHANCE:
                chances.setdefault((item.last.design, part), []).append(chance)
    found = [
        _of_part(fleet.known.designs[design], design, part, each)
        for (design, part), each in chances.items()
        if design in fleet.known.designs
    ]
    return tuple(sorted(found, key=lambda w: (-w.pieces, w.design, w.part)))


def part_chances(fleet: Fleet, hoist: str, day: datetime.date) -> Mapping[str, float]:
    """The chance of each part of a hoist not to be called fit on a day: its likeliest feature."""
    found: dict[str, float] = {}
    for outlook in fleet.outlooks.get(hoist, ()):
        if outlook.prognosis is not None:
            found[outlook.part] = max(found.get(outlook.part, 0.0), outlook.chance_not_fit(day))
    return found


def _of_part(design: Design, name: str, part: str, each: Sequence[float]) -> Wanted:
    line = design.part(part)
    return Wanted(
        design=name,
        part=part,
        part_name=line.name,
        pieces=sum(each) * line.quantity,
        hoists=sum(chance >= 0.5 for chance in each),
    )
