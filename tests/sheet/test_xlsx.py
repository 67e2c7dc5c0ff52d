"""XLSX as spreadsheets save it, and what must not be read from one."""

import datetime
import io
import re
import zipfile
from collections.abc import Callable
from typing import Any

import openpyxl
import pytest

from hoistwright.faults import FaultsError
from hoistwright.sheet import BlankSheet, read_sheet
from hoistwright.sheet.blank_xlsx import blank_xlsx

Change = Callable[[Any, Any], None]


@pytest.fixture(scope="module")
def base(blank: BlankSheet, as_new_values: Any, fill: Any) -> bytes:
    data = fill(".xlsx", blank, as_new_values)
    assert isinstance(data, bytes)
    return data


@pytest.fixture
def changed(base: bytes, save: Any) -> Callable[[Change], Any]:
    """Save the filled workbook after `change` had its two worksheets."""

    def make(change: Change) -> Any:
        book = openpyxl.load_workbook(io.BytesIO(base))
        change(book["Job"], book["Readings"])
        out = io.BytesIO()
        book.save(out)
        return save("sheet.xlsx", out.getvalue())

    return make


def find(sheet: Any, *texts: str) -> int:
    """The row that begins with these texts."""
    for row in sheet.iter_rows():
        if tuple(cell.value for cell in row[: len(texts)]) == texts:
            return int(row[0].row)
    raise AssertionError(texts)


def reading(sheet: Any, part: str, feature: str) -> Any:
    """The reading's cell of a point."""
    return sheet.cell(find(sheet, part, feature), 8)


def faults(path: Any) -> str:
    with pytest.raises(FaultsError) as caught:
        read_sheet(path)
    return str(caught.value)


def test_dates_may_be_dates_or_text(changed: Any) -> None:
    def dated(job: Any, _: Any) -> None:
        job.cell(find(job, "examined on"), 2).value = datetime.date(2026, 11, 24)
        job.cell(find(job, "received on"), 2).value = "23 Nov 2026"

    work = read_sheet(changed(dated)).work
    assert work.examined_on == datetime.date(2026, 11, 24)
    assert work.received_on == datetime.date(2026, 11, 23)


def test_a_date_as_a_bare_number_is_asked_back(changed: Any) -> None:
    def number(job: Any, _: Any) -> None:
        cell = job.cell(find(job, "examined on"), 2)
        cell.value, cell.number_format = 46351, "General"

    assert "read '46351'; expected a date like 2026-11-25. Format the cell as a date" in faults(
        changed(number)
    )


def test_numbers_stored_as_text_are_read(changed: Any) -> None:
    def as_text(_: Any, sheet: Any) -> None:
        reading(sheet, "top_hook", "throat").value = "72,4"

    sheet = read_sheet(changed(as_text))
    assert next(r for r in sheet.readings if r.feature == "hook.throat").values == (0.0724,)


def test_a_fraction_that_became_a_date_is_named(changed: Any) -> None:
    def fraction(_: Any, sheet: Any) -> None:
        reading(sheet, "top_hook", "throat").value = datetime.date(2026, 4, 1)

    text = faults(changed(fraction))
    assert "the date 2026-04-01" in text
    assert "Format the cell as text" in text


def test_serial_numbers_stay_whole(changed: Any) -> None:
    def serial(job: Any, _: Any) -> None:
        job.cell(find(job, "serial number"), 2).value = 221045

    assert read_sheet(changed(serial)).hoist.serial == "221045"


def test_a_formula_is_refused_with_its_cell(changed: Any) -> None:
    def formula(job: Any, sheet: Any) -> None:
        reading(sheet, "top_hook", "throat").value = "=70+2.4"
        job.cell(find(job, "examined on"), 2).value = "=TODAY()"

    text = faults(changed(formula))
    assert text.count("a formula; expected a typed entry") == 2
    assert "column H (reading): read a formula" in text
    assert "sheet Job" in text


def test_a_formula_in_a_printed_column_does_no_harm(changed: Any) -> None:
    def formula(_: Any, sheet: Any) -> None:
        sheet.cell(find(sheet, "top_hook", "throat"), 5).value = "=36*2"

    assert read_sheet(changed(formula)).job == "KQ-0412"


def test_merged_cells_in_the_table_are_refused(changed: Any) -> None:
    def merge(_: Any, sheet: Any) -> None:
        row = find(sheet, "top_hook", "throat")
        sheet.merge_cells(start_row=row, end_row=row + 1, start_column=8, end_column=8)

    text = faults(changed(merge))
    assert "merged cells down to row" in text
    assert "Undo the merge" in text


def test_an_error_value_is_refused(changed: Any) -> None:
    def broken(_: Any, sheet: Any) -> None:
        cell = reading(sheet, "top_hook", "throat")
        cell.value, cell.data_type = "#DIV/0!", "e"

    assert "an error value; expected a typed entry" in faults(changed(broken))


def test_a_missing_worksheet_is_named(changed: Any) -> None:
    def renamed(_: Any, sheet: Any) -> None:
        sheet.title = "Sheet2"

    assert "a workbook with the worksheets Job, Sheet2" in faults(changed(renamed))


def test_a_cell_at_the_end_of_the_world_is_not_laid_out(changed: Any) -> None:
    def far(_: Any, sheet: Any) -> None:
        sheet["XFD1048576"] = 1

    assert "a cell in row 1048576" in faults(changed(far))


def _zip(entries: dict[str, bytes], level: int = 9) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=level) as archive:
        for name, content in entries.items():
            archive.writestr(name, content)
    return out.getvalue()


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        ({"xl/workbook.xml": b"0" * 21_000_000}, "unpacks to 21,000,000 bytes"),
        ({"xl/workbook.xml": b"0" * 4_000_000}, "times its size"),
        ({f"xl/{n}.xml": b"" for n in range(300)}, "an archive of 300 files"),
        ({"readme.txt": b"hello"}, "without a workbook"),
        ({"xl/workbook.xml": b"<workbook"}, "xl/workbook.xml is broken"),
    ],
)
def test_archives_that_are_no_workbook(entries: dict[str, bytes], said: str, save: Any) -> None:
    assert said in faults(save("bomb.xlsx", _zip(entries)))


@pytest.mark.parametrize(
    ("part", "old", "new", "said"),
    [
        # a reader that takes such a count at its word ends the whole process
        ("sharedStrings", b"<sst ", b'<sst count="4294967295" ', "sst states a count of 42949672"),
        ("styles", b"<cellXfs count=", b'<cellXfs x="" count="-1" y=', "cellXfs states a count"),
        ("styles", b"<styleSheet", b"<!DOCTYPE x><styleSheet", "a document type"),
        ("styles", b'encoding="UTF-8"', b'encoding="UTF-7"', "whose XML is in UTF-7"),
        ("styles", b"<styleSheet", b"<styleSheet \xff", "xl/styles.xml is broken"),
    ],
)
def test_xml_that_no_spreadsheet_writes(
    part: str, old: bytes, new: bytes, said: str, blank: BlankSheet, save: Any
) -> None:
    with zipfile.ZipFile(io.BytesIO(blank_xlsx(blank))) as archive:
        entries = {name: archive.read(name) for name in archive.namelist()}
    name = f"xl/{part}.xml"
    assert old in entries[name]
    entries[name] = re.sub(rb'(<sst [^>]*?) count="\d+"', rb"\1", entries[name]).replace(
        old, new, 1
    )
    assert said in faults(save("odd.xlsx", _zip(entries)))


def test_a_lying_table_of_contents_unpacks_no_further(base: bytes, save: Any) -> None:
    """The stated size of an entry is made small: what comes out is cut and its sum is wrong."""
    bomb = bytearray(_zip({"xl/workbook.xml": b"0" * 15_000_000, "a": bytes(range(256)) * 999}, 1))
    at = bomb.rindex(b"PK\x01\x02", 0, bomb.rindex(b"PK\x01\x02"))
    bomb[at + 24 : at + 28] = (1000).to_bytes(4, "little")
    assert "a broken XLSX file" in faults(save("bomb.xlsx", bytes(bomb)))


def test_the_same_blank_has_the_same_bytes(blank: BlankSheet, shop: Any) -> None:
    assert blank_xlsx(blank, shop=shop) == blank_xlsx(blank, shop=shop)


def test_a_blank_is_ready_for_screen_and_paper(blank: BlankSheet, shop: Any) -> None:
    book = openpyxl.load_workbook(io.BytesIO(blank_xlsx(blank, shop=shop)))
    assert book.sheetnames == ["Job", "Readings", "Lists"]
    assert book["Lists"].sheet_state == "hidden"
    sheet = book["Readings"]
    assert sheet.freeze_panes == "D4"
    assert (sheet.page_setup.orientation, sheet.page_setup.paperSize) == ("landscape", 9)
    fitted = sheet.sheet_properties.pageSetUpPr
    assert fitted is not None
    assert fitted.fitToPage
    assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, 0)
    lists = {
        str(v.sqref).split(":")[0][0]: v.formula1 for v in sheet.data_validations.dataValidation
    }
    assert lists == {"I": "Lists!$A$1:$A$1", "K": '"in order,defect,not looked"'}
    throat = find(sheet, "top_hook", "throat")
    locked = {sheet.cell(3, c).value: sheet.cell(throat, c).protection.locked for c in range(1, 14)}
    assert sheet.protection.sheet
    assert not locked["reading"]
    assert not locked["gauge"]
    assert locked["part"]
    assert locked["answer"]
