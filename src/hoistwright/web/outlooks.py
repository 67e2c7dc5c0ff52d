"""Histories of a hoist's parts for pages: pictures, and what they say in the reader's words."""

from __future__ import annotations

import datetime
import itertools
import math
from collections.abc import Callable, Iterator, Sequence

import attrs
from markupsafe import Markup

from hoistwright.examine.words import unit_for
from hoistwright.fleet.bundles import FeatureOutlook
from hoistwright.fleet.due import Due, due_of
from hoistwright.fleet.forecasts import Fleet
from hoistwright.fleet.plot import history_svg
from hoistwright.fleet.plot_values import PlotTexts, PlotValues, plot_values
from hoistwright.fleet.words import percent
from hoistwright.quantity import Dimension, in_unit
from hoistwright.web.due_words import said_chance, why_due
from hoistwright.web.showing import INCH
from hoistwright.web.visit import Visit


@attrs.frozen(kw_only=True)
class HistoryView:
    """One picture with its words."""

    part: str
    title: str
    picture: Markup
    now: str
    chance: str
    limit: str
    doubts: tuple[str, ...]
    share: float
    risk: float


@attrs.frozen(kw_only=True)
class HoistView:
    """A hoist's parts, what wears most first, and when it is due and why."""

    first: tuple[HistoryView, ...]
    more: tuple[HistoryView, ...]
    due: Due | None
    why: str
    doubts: tuple[str, ...]


MOST_FIRST = 6


def hoist_view(visit: Visit, fleet: Fleet, hoist: str) -> HoistView:
    """The pictures of a hoist: of each part the one that comes nearest its limit first."""
    due = due_of(fleet, hoist)
    found = fleet.outlooks.get(hoist, ())
    outlooks = sorted(found, key=lambda o: (-round(o.chance, 2), -_share(o)))
    by_part = {outlook.part: outlook for outlook in reversed(outlooks)}
    leading = [outlook for outlook in outlooks if by_part[outlook.part] is outlook]
    order = [*leading, *(o for o in outlooks if o not in leading)]
    shown_day = (due.paper or due.day) if due else None
    views = [
        history_view(visit, outlook, shown_day, f"history{number}")
        for number, outlook in enumerate(order)
    ]
    return HoistView(
        first=tuple(views[:MOST_FIRST]),
        more=tuple(views[MOST_FIRST:]),
        due=due,
        why=why_due(visit.language, due, visit.bench.today) if due else "",
        doubts=tuple(_fleet_doubts(visit, fleet, outlooks)),
    )


def history_view(
    visit: Visit, outlook: FeatureOutlook, next_visit: datetime.date | None, name: str
) -> HistoryView:
    """One feature as a picture with its caption."""
    scale, say = outlook.history.scale, visit.say
    unit = shown_unit(visit, scale.dimension)
    values = plot_values(
        outlook,
        factor=in_unit(1.0, scale.dimension, unit),
        next_visit=next_visit,
        today=visit.bench.today,
    )
    number = _writer(visit, values)
    title = f"{visit.language.name(scale.part_name)}, {visit.language.name(scale.feature_name)}"
    now = _now(visit, outlook)
    chance = _chance(visit, outlook, next_visit)
    texts = PlotTexts(
        limit=say("limit"),
        new=say("as new"),
        renewed=say("renewed"),
        next_visit=say("due"),
        title=title,
        told=f"{_readings(visit, values, number, unit)} {now} {chance}",
        day=visit.language.date,
        figure=number,
        unit=unit,
    )
    limit = say(
        "Limit %(limit)s: %(source)s",
        limit=f"{number(values.limit)} {unit}",
        source=visit.language.sentence(", ".join(w for w in (scale.source, scale.clause) if w)),
    )
    return HistoryView(
        part=scale.part,
        title=title,
        picture=Markup(history_svg(values, texts, name)),  # every text is escaped
        now=now,
        chance=chance,
        limit=limit,
        doubts=tuple(_doubts(visit, outlook, number, unit)),
        share=_share(outlook),
        risk=outlook.chance,
    )


def shown_unit(visit: Visit, dimension: Dimension) -> str:
    """The unit in which the reader sees a dimension."""
    unit = unit_for(dimension)
    return INCH.get(unit, unit) if visit.units == "in" else unit


def _share(outlook: FeatureOutlook) -> float:
    """Of the way to the limit; without an as-new value nobody can say."""
    if not outlook.history.scale.known:
        return 0.0
    if outlook.prognosis is not None:
        return float(outlook.prognosis.state.x)
    return outlook.history.readings[-1].share if outlook.history.readings else 0.0


def _writer(visit: Visit, values: PlotValues) -> Callable[[float], str]:
    """Figures with as many decimals as the way to the limit needs."""
    span = abs(values.limit - values.new) if values.new is not None else abs(values.limit) / 4
    decimals = next((n for n in range(5) if span * 10**n >= 20), 5)
    return lambda value: visit.language.number(round(value, decimals), decimals)


def _now(visit: Visit, outlook: FeatureOutlook) -> str:
    if not outlook.history.scale.known:
        return ""
    share = max(_share(outlook), 0.0)
    return visit.say("%(share)s of the way from as new to the limit.", share=percent(share))


def _chance(visit: Visit, outlook: FeatureOutlook, day: datetime.date | None) -> str:
    if outlook.prognosis is None or day is None:
        return visit.say("How it goes on cannot be said yet.")
    at = max(day, visit.bench.today)
    return visit.say(
        "Chance of being beyond the limit by %(day)s: %(chance)s.",
        day=visit.language.date(at),
        chance=said_chance(visit.language, outlook.chance_by(at)),
    )


def _readings(visit: Visit, values: PlotValues, number: Callable[[float], str], unit: str) -> str:
    each = "; ".join(
        f"{visit.language.date(r.day)} {number(r.value)} {unit}" for r in values.readings
    )
    return visit.say("Readings: %(each)s.", each=each) if each else visit.say("Not read yet.")


def _doubts(
    visit: Visit, outlook: FeatureOutlook, number: Callable[[float], str], unit: str
) -> Iterator[str]:
    """What speaks against the forecast. Readings that do not fit stand as a gauge shows them."""
    suspects = outlook.prognosis.suspects if outlook.prognosis else ()
    as_shares = {suspect.sentence() for suspect in suspects}
    for doubt in outlook.doubts:
        if doubt not in as_shares:
            yield visit.language.sentence(doubt)
    scale = outlook.history.scale
    for suspect in suspects:
        read, expected = (
            f"{number(in_unit(scale.reading(share), scale.dimension, unit))} {unit}"
            for share in (suspect.value, suspect.expected)
        )
        day = _day_read(outlook, suspect.value)
        of = visit.say("%(read)s of %(day)s", read=read, day=visit.language.date(day))
        yield visit.say(
            "The reading %(read)s does not fit the others: about %(expected)s was to be expected. "
            "It is kept. Measure again; look for another place, another gauge, a renewal that was "
            "not entered, or an overload.",
            read=of if day else read,
            expected=expected,
        )


def _day_read(outlook: FeatureOutlook, share: float) -> datetime.date | None:
    """The day of a reading; None where it cannot be told."""
    days = [mark.day for mark in outlook.history.readings if math.isclose(mark.share, share)]
    return days[0] if len(days) == 1 else None


def _fleet_doubts(visit: Visit, fleet: Fleet, outlooks: Sequence[FeatureOutlook]) -> Iterator[str]:
    """Doubts about the fits that this hoist leans on, each once with its feature."""
    seen: set[str] = set()
    for outlook in outlooks:
        for doubt in itertools.islice(fleet.doubts(outlook.history.key), 3):
            words = (
                f"{visit.language.name(outlook.history.scale.feature_name)}"
                f"{visit.say(': ')}{visit.language.sentence(doubt)}"
            )
            if words not in seen:
                seen.add(words)
                yield words
