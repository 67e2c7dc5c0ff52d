"""The rows of a sheet: each a reading or a look at one point of the design."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import attrs

from hoistwright.examine.entries import LookAnswer, Reading
from hoistwright.examine.points import Address, Point
from hoistwright.faults import Fault, Place
from hoistwright.hoist.design import Design
from hoistwright.sheet.addresses import Addresses
from hoistwright.sheet.answers import EXPECTED, answer_of
from hoistwright.sheet.figures import Typing, figures_of, links_of
from hoistwright.sheet.people import gauge_key, person_key
from hoistwright.sheet.raw import Cell, RawRow

if TYPE_CHECKING:
    from hoistwright.job.shop import Shop

MOST_FAULTS = 500
"""Nobody mends more in one go: such a file is no job sheet, or its columns have slipped."""

_FILLED = ("answer", "gauge", "remark", "photo", "by")
"""Columns that only a technician fills; unit and links are printed on a blank sheet."""


@attrs.define
class Rows:
    """Checks rows one by one, and remembers which points have had one."""

    design: Design
    typing: Typing
    shop: Shop | None
    faults: list[Fault]
    addresses: Addresses = attrs.field(init=False)
    readings: list[Reading] = attrs.field(factory=list)
    looks: list[LookAnswer] = attrs.field(factory=list)
    taken: dict[Address, Place] = attrs.field(factory=dict)

    def __attrs_post_init__(self) -> None:
        self.addresses = Addresses.of(self.design)

    def take(self, rows: Iterable[RawRow]) -> None:
        for row in rows:
            if len(self.faults) >= MOST_FAULTS:
                self.faults.append(_enough(row))
                return
            if not _blank(row):
                self._row(row)

    def _row(self, row: RawRow) -> None:
        point = self.addresses.find(row, self.faults)
        if point is None:
            return
        wrong = _wrong_kind(row, point)
        if wrong is not None:
            self.faults.append(wrong)
        elif _filled(row) and self._once(row, point):
            take = self._reading if point.measured else self._look
            take(row, point)

    def _once(self, row: RawRow, point: Point) -> bool:
        """True the first time that a point has a row; a fault the next time."""
        before = self.taken.setdefault(point.address, row.place)
        if before is row.place:
            return True
        words = ", ".join(word for word in point.address if word)
        expected = f"each point once; it stands at {_where(before)} already"
        mend = "Repeats of one reading go into one row: 12.1; 12.2; 12.1."
        self.faults.append(
            Fault(row.place, f"{words} a second time", expected, mend if point.measured else "")
        )
        return False

    def _reading(self, row: RawRow, point: Point) -> None:
        links = links_of(row, point, self.faults)
        figures = figures_of(row, point, links, self.design, self.typing, self.faults)
        self.readings.append(
            Reading(
                part=point.part,
                feature=point.feature,
                place=point.place,
                values=figures.values,
                unit=figures.unit,
                gauge=gauge_key(row.at("gauge"), self.shop, self.faults),
                links=links,
                remark=row.text("remark"),
                by=person_key(row.at("by"), self.shop, self.faults),
                source=row.place,
            )
        )

    def _look(self, row: RawRow, point: Point) -> None:
        cell = row.at("answer")
        answer = answer_of(cell.text)
        if answer is None:
            self.faults.append(cell.fault(EXPECTED))
            return
        self.looks.append(
            LookAnswer(
                part=point.part,
                feature=point.feature,
                place=point.place,
                answer=answer,
                remark=row.text("remark"),
                photo=row.text("photo"),
                by=person_key(row.at("by"), self.shop, self.faults),
                source=row.place,
            )
        )


def _enough(row: RawRow) -> Fault:
    mend = "Mend those first: the rows from here on were not looked at."
    return Fault(row.place, f"a sheet with {MOST_FAULTS} faults so far", "a filled job sheet", mend)


def _blank(row: RawRow) -> bool:
    return not row.values and not any(cell.text for cell in row.cells.values())


def _filled(row: RawRow) -> bool:
    """True where something was entered, not only printed."""
    return any(cell.text for cell in row.values) or any(row.text(column) for column in _FILLED)


def _wrong_kind(row: RawRow, point: Point) -> Fault | None:
    """A figure where a look is asked, an answer where a reading is."""
    strange: Cell | None
    if point.measured:
        strange = _first(row, ("answer", "photo"))
        expected = f"nothing here: {point.name} is measured; its figure goes under reading"
        wrong_table = row.kind == "look"
    else:
        strange = next((cell for cell in row.values if cell.text), None)
        strange = strange or _first(row, ("gauge",))
        expected = f"nothing here: {point.name} is a look; it has an answer"
        wrong_table = row.kind == "reading"
    if strange is not None:
        return strange.fault(expected)
    if wrong_table:
        right = "[[reading]]" if point.measured else "[[look]]"
        return Fault(row.place, f"[[{row.kind}]] for {point.name}", right)
    return None


def _first(row: RawRow, columns: Iterable[str]) -> Cell | None:
    return next((row.at(column) for column in columns if row.text(column)), None)


def _where(place: Place) -> str:
    return str(attrs.evolve(place, file="")) or "another row"
