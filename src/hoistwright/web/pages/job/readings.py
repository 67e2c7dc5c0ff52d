"""A figure typed at the bench, by hand or by a caliper that types, as a reading."""

from __future__ import annotations

import re

import attrs

from hoistwright.examine.points import Point
from hoistwright.faults import Fault, Place
from hoistwright.job.events import MOST_REPEATS, Body, Corrected, ReadingEntered
from hoistwright.job.state import Standing
from hoistwright.job.to_entries import point_of
from hoistwright.quantity import QuantityError, parse
from hoistwright.sheet.figures import SURE, Figures, Typing, figures_of, links_of, usual_size
from hoistwright.sheet.magnitude import meant
from hoistwright.sheet.raw import Cell, RawRow
from hoistwright.web.fault_words import figure_words
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.gauge_choice import out_of_range
from hoistwright.web.pages.job.question import Question, ask
from hoistwright.web.visit import Visit

_HERE = Place()


def reading_said(case: Case) -> Body | Question:
    """A reading, another repeat of it, or a correction of it, as the form tells."""
    visit, design = case.visit, case.needed_design()
    address = visit.field("part"), visit.field("feature"), visit.field("place")
    point = point_of(case.points, *address)
    if point is None or not point.measured:
        return ask("value", visit.say("The design has no such measure. Load the page again."))
    faults: list[Fault] = []
    row = _row(visit)
    links = links_of(row, point, faults) or point.links
    typing = Typing(visit.field("units") or visit.units, _mark(visit), False)
    figures = figures_of(row, point, links, design, typing, faults)
    if faults:
        return _question(case, point, faults[0], links)
    if not figures.values:
        return ask("value", visit.say("Type the figure, then press Enter."))
    trouble = out_of_range(case, visit.field("gauge"), figures.values)
    if trouble:
        return ask(
            "gauge",
            visit.say("%(why)s. Choose the gauge that you used.", why=_capital(visit.say(trouble))),
        )
    return _body(case, attrs.evolve(point, place=address[2]), figures, links)


def _body(case: Case, point: Point, figures: Figures, links: int | None) -> Body | Question:
    visit = case.visit
    before = case.state.readings.get(point.address)
    if visit.field("do") == "correct":
        return _correction(case, point, figures, links)
    values = (*known_values(case, before), *figures.values)
    if len(values) > MOST_REPEATS:
        return ask("value", visit.say("There are %(most)s readings here already; that is enough.",
                                      most=MOST_REPEATS))  # fmt: skip
    old = before.body if before else None
    remark = old.remark if isinstance(old, ReadingEntered) else ""
    return _reading(visit, point, Figures(values, figures.unit), links, remark)


def known_values(case: Case, before: Standing | None) -> tuple[float, ...]:
    """Earlier repeats that a new figure joins: one's own, and those that stood on the page."""
    body = before.body if before else None
    if before is None or not isinstance(body, ReadingEntered):
        return ()
    if body.gauge != case.visit.field("gauge"):
        return ()  # another gauge is another reading, not a repeat
    seen = case.visit.field("seen")
    known = not seen.isdigit() or before.last.seq <= int(seen)
    return body.values if known or before.last.by == case.visit.person.key else ()


def _correction(case: Case, point: Point, figures: Figures, links: int | None) -> Body | Question:
    visit = case.visit
    entry = case.state.roots.get(visit.field("entry"), visit.field("entry"))
    standing = case.state.entries.get(entry)
    if standing is None or not isinstance(standing.event.body, ReadingEntered):
        return ask("value", visit.say("There is no such reading. Load the page again."))
    reading = _reading(visit, point, figures, links, visit.field("remark")[:500])
    return Corrected(corrects=entry, replacement=reading, reason=visit.field("reason")[:500])


def _reading(
    visit: Visit, point: Point, figures: Figures, links: int | None, remark: str
) -> ReadingEntered:
    return ReadingEntered(
        part=point.part,
        feature=point.feature,
        place=point.place,
        values=figures.values,
        unit=figures.unit,
        gauge=visit.field("gauge")[:80],
        links=links,
        remark=remark,
    )


def _row(visit: Visit) -> RawRow:
    """The form as a row of a sheet, so that the bench takes what a sheet takes."""
    value = visit.field("value")
    if visit.field("sure") and not value.endswith(SURE):
        value = f"{value}{SURE}"
    names = {"unit": "unit", "links": "links"}
    cells = {column: Cell(visit.field(name), _HERE) for column, name in names.items()}
    return RawRow(place=_HERE, kind="reading", cells=cells, values=(Cell(value, _HERE),))


def _mark(visit: Visit) -> str | None:
    """A decimal comma of a French page is one; else the figure must tell by itself."""
    value = visit.field("value")
    return "," if visit.language.decimal == "," and "," in value and "." not in value else None


def _question(case: Case, point: Point, fault: Fault, links: int | None) -> Question:
    """What the figure may have been meant as, each to be chosen by one touch."""
    visit = case.visit
    typed = visit.field("value").removesuffix(SURE).strip()
    unit = visit.field("unit") or visit.units
    usual = usual_size(case.needed_design(), point, links)
    try:
        found = parse(typed, point.dimension, unit=unit, decimal=_mark(visit))
    except QuantityError as error:
        return ask("value", figure_words(error, visit.language))
    if found.si < 0 or usual is None or usual.value <= 0:
        return ask("value", _words(fault, visit))
    offers = meant(found, usual.value)
    figure = re.sub(r"[^\d.,]", "", typed)
    if len(offers) == 1:
        words = visit.say("%(read)s, or %(offer)s?", read=f"{figure} {found.unit}", offer=offers[0])
    else:
        size = _shown(case, point, usual.value)
        read = f"{figure} {found.unit}"
        if usual.by_limit:
            words = visit.say("%(read)s? Its limit is %(limit)s.", read=read, limit=size)
        else:
            words = visit.say("%(read)s? As new it is %(new)s.", read=read, new=size)
    return Question(field="value", words=words, offers=offers, sure=f"{figure} {found.unit}{SURE}")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _shown(case: Case, point: Point, value: float) -> str:
    from hoistwright.examine.words import shown

    return shown(value, point.dimension, case.visit.units)


def _words(fault: Fault, visit: Visit) -> str:
    say, colon = visit.say, visit.language.colon
    return f"{say(fault.read)}{colon}{say(fault.expected)}. {say(fault.mend)}".strip()
