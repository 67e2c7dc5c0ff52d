"""A blank sheet as an XLSX workbook: worksheet Job for the header, Readings for the table."""

from __future__ import annotations

import datetime
import io
from typing import TYPE_CHECKING, Any, get_args

from hoistwright.examine.entries import Answer
from hoistwright.sheet.blank import BlankRow, BlankSheet
from hoistwright.sheet.blank_grid import (
    FREE_ROWS,
    GRID,
    PRINTED,
    grid_line,
    heading_lines,
    section_line,
)
from hoistwright.sheet.read_xlsx import JOB, READINGS

if TYPE_CHECKING:
    from hoistwright.job.shop import Shop

_WIDTHS = {
    "part": 19, "feature": 15, "place": 14, "what to do": 46, "as new": 10, "limit": 25,
    "unit": 5, "reading": 12, "gauge": 9, "links": 5, "answer": 11, "remark": 20, "photo": 9,
}  # fmt: skip
_A4 = 9
_LISTS = "Lists"
_UNITS = ["mm", "in"]
_CHOICES = {
    "sheet.decimal": ["point", "comma"],
    "work.service": ["normal", "heavy", "severe"],
}


def blank_xlsx(blank: BlankSheet, *, shop: Shop | None = None) -> bytes:
    """The workbook as bytes: the same for the same sheet and shop. `shop` gives lists to choose
    gauges and people from.
    """
    import xlsxwriter

    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    created = datetime.datetime.combine(blank.day, datetime.time())
    title = f"{blank.language.say('Job sheet')}, {blank.title}"
    book.set_properties({"title": title, "created": created})
    _Writer(book, blank, shop).write()
    book.close()
    return out.getvalue()


class _Writer:
    """Writes the worksheets; formats are made once."""

    def __init__(self, book: Any, blank: BlankSheet, shop: Shop | None) -> None:
        self.book, self.blank, self.own = book, blank, blank.language
        self.gauges = [gauge.key for gauge in shop.gauges] if shop else []
        self.people = [person.key for person in shop.people] if shop else []
        edge = {"border": 1, "valign": "top", "text_wrap": True}
        self.head = book.add_format({**edge, "bold": True, "bg_color": "#D9D9D9"})
        self.printed = book.add_format(edge)
        self.entry = book.add_format({**edge, "locked": False, "bg_color": "#FFFBE6"})
        self.date = book.add_format(
            {**edge, "locked": False, "bg_color": "#FFFBE6", "num_format": "yyyy-mm-dd"}
        )
        self.closed = book.add_format({**edge, "bg_color": "#BFBFBF"})
        self.section = book.add_format({"bold": True, "top": 2})

    def write(self) -> None:
        job, readings = (self.book.add_worksheet(self.own.say(name)) for name in (JOB, READINGS))
        lists = self._lists()
        self._job(job, lists)
        self._readings(readings, lists)
        for sheet in (job, readings):
            sheet.set_landscape()
            sheet.set_paper(_A4)
            sheet.fit_to_pages(1, 0)
            sheet.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.6)
            sheet.set_footer(f"&L&F, &A&R{self.own.say('Page')} &P {self.own.say('of')} &N")
            sheet.protect("", {"format_columns": True, "format_rows": True})
        job.activate()

    def _lists(self) -> dict[str, str]:
        """Where on the hidden worksheet the gauges and the people stand."""
        filled = {"gauges": self.gauges, "people": self.people}
        found: dict[str, str] = {}
        if not any(filled.values()):
            return found
        sheet = self.book.add_worksheet(_LISTS)
        sheet.hide()
        for column, (name, keys) in enumerate(filled.items()):
            for row, key in enumerate(keys):
                sheet.write_string(row, column, key)
            if keys:
                letter = "AB"[column]
                found[name] = f"={_LISTS}!${letter}$1:${letter}${len(keys)}"
        return found

    def _job(self, sheet: Any, lists: dict[str, str]) -> None:
        for column, (text, width) in enumerate((("what", 20), ("entry", 50), ("note", 62))):
            sheet.set_column(column, column, width)
            sheet.write_string(0, column, self.own.say(text), self.head)
        sheet.freeze_panes(1, 1)
        for row, (line, value) in enumerate(self.blank.header, start=1):
            sheet.write_string(row, 0, line.label, self.printed)
            kind = self.date if line.key.endswith("_on") else self.entry
            if value:
                sheet.write_string(row, 1, value, kind)
            else:
                sheet.write_blank(row, 1, None, kind)
            sheet.write_string(row, 2, line.hint, self.printed)
            source = lists.get("people") if line.key == "work.examined_by" else None
            choices = [self.own.say(word) for word in _CHOICES.get(line.key, ())]
            choices = _UNITS if line.key == "sheet.units" else choices
            if source or choices:
                sheet.data_validation(row, 1, row, 1, self._choice(source or choices))

    def _readings(self, sheet: Any, lists: dict[str, str]) -> None:
        for column, name in enumerate(GRID):
            sheet.set_column(column, column, _WIDTHS[name])
        for row, text in enumerate(heading_lines(self.blank)):
            sheet.write_string(row, 0, text)
        for column, name in enumerate(GRID):
            sheet.write_string(2, column, self.own.say(name), self.head)
        sheet.freeze_panes(3, 3)
        sheet.repeat_rows(2)
        at = 3
        for section in self.blank.sections:
            sheet.write_string(at, 0, section_line(section, self.own), self.section)
            for blank_row in section.rows:
                at += 1
                self._row(sheet, at, blank_row)
            at += 1
        for free in range(at, at + FREE_ROWS):
            for column in range(len(GRID)):
                sheet.write_blank(free, column, None, self.entry)
        self._choices(sheet, at + FREE_ROWS - 1, lists)

    def _row(self, sheet: Any, at: int, row: BlankRow) -> None:
        closed = ("answer", "photo") if row.measured else ("reading", "gauge", "links", "unit")
        for column, (name, text) in enumerate(zip(GRID, grid_line(row, self.own), strict=True)):
            if name in closed:
                sheet.write_blank(at, column, None, self.closed)
            elif name == "links" and row.links is not None:
                sheet.write_number(at, column, row.links, self.entry)
            elif name == "links":
                sheet.write_blank(at, column, None, self.closed)
            elif name in PRINTED:
                kind = self.entry if name == "unit" else self.printed
                sheet.write_string(at, column, text, kind)
            else:
                sheet.write_blank(at, column, None, self.entry)

    def _choices(self, sheet: Any, last: int, lists: dict[str, str]) -> None:
        answer, gauge = GRID.index("answer"), GRID.index("gauge")
        answers = [self.own.say(word) for word in get_args(Answer)]
        sheet.data_validation(3, answer, last, answer, self._choice(answers))
        if "gauges" in lists:
            sheet.data_validation(3, gauge, last, gauge, self._choice(lists["gauges"]))

    def _choice(self, source: str | list[str]) -> dict[str, object]:
        return {
            "validate": "list",
            "source": source,
            "error_type": "warning",
            "error_title": self.own.say("Not in the list"),
            "error_message": self.own.say("Choose from the list."),
        }
