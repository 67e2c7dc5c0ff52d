"""A shop, a blank sheet, and ways to fill it as a technician would."""

import csv
import datetime
import io
import re
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from hoistwright.basis.loading import shipped_basis
from hoistwright.hoist.library import shipped
from hoistwright.job.shop import Shop
from hoistwright.job.shop_file import shop_from_text
from hoistwright.sheet import BlankSheet, blank_rows
from hoistwright.sheet.blank_csv import blank_csv
from hoistwright.sheet.blank_toml import blank_toml
from hoistwright.sheet.blank_xlsx import blank_xlsx

SHOP = """\
format = 1
name = "Kittiwake Quay Lifting Works"
address = "Quay Road 4"

[[people]]
key = "mara"
name = "Mara Lindqvist"
roles = ["competent person"]

[[people]]
key = "ines"
name = "Ines Hallow"
roles = ["counter"]

[[gauges]]
key = "C1"
name = "caliper 1"
kind = "digital caliper"
resolution = "0.01 mm"
uncertainty = "0.03 mm"
"""

DAY = datetime.date(2026, 11, 25)
HEADER = {"examined on": "2026-11-25", "examined by": "mara"}

Values = Mapping[tuple[str, str, str], str | float]
"""Part, feature and place to what is typed as the reading."""

Fill = Callable[..., bytes]


@pytest.fixture(scope="session")
def shop() -> Shop:
    return shop_from_text(SHOP)


@pytest.fixture(scope="session")
def make_blank() -> Callable[..., BlankSheet]:
    def make(key: str = "ardle-2000", **more: Any) -> BlankSheet:
        bases = [shipped_basis("b30-hand-hoists")]
        return blank_rows(shipped(key), bases, DAY, job="KQ-0412", **more)

    return make


@pytest.fixture(scope="session")
def blank(make_blank: Callable[..., BlankSheet]) -> BlankSheet:
    return make_blank()


@pytest.fixture(scope="session")
def fill() -> Fill:
    """Fill a blank sheet: the file's bytes in the format of `suffix`."""

    def filled(
        suffix: str, blank: BlankSheet, values: Values, header: Mapping[str, str] | None = None
    ) -> bytes:
        how = {".csv": _csv, ".toml": _toml, ".xlsx": _xlsx}[suffix]
        return how(blank, values, {**HEADER, **(header or {})})

    return filled


@pytest.fixture
def save(tmp_path: Path) -> Callable[[str, bytes | str], Path]:
    def saved(name: str, data: bytes | str) -> Path:
        path = tmp_path / name
        path.write_bytes(data.encode() if isinstance(data, str) else data)
        return path

    return saved


def _csv(blank: BlankSheet, values: Values, header: Mapping[str, str]) -> bytes:
    looks = _looks(blank)
    lines = list(csv.reader(io.StringIO(blank_csv(blank))))
    at = next(number for number, line in enumerate(lines) if line[:2] == ["part", "feature"])
    heading = lines[at]
    for line in lines[:at]:
        if line and line[0] in header:
            line[1] = header[line[0]]
    for line in lines[at + 1 :]:
        if not line[0].startswith("#"):
            _fill_cells(dict(zip(heading, range(99), strict=False)), line, values, looks)
    out = io.StringIO()
    csv.writer(out).writerows(lines)
    return out.getvalue().encode()


def _looks(blank: BlankSheet) -> set[tuple[str, str, str]]:
    return {(row.part, row.feature, row.place) for row in blank.rows if not row.measured}


def _fill_cells(
    columns: Mapping[str, int], line: list[Any], values: Values, looks: set[tuple[str, str, str]]
) -> None:
    address = line[0], line[1], line[2] or ""
    if address in values:
        line[columns["reading"]] = values[address]
        line[columns["gauge"]] = "C1"
    elif address in looks:
        line[columns["answer"]] = "in order"


def _toml(blank: BlankSheet, values: Values, header: Mapping[str, str]) -> bytes:
    text = blank_toml(blank)
    for label, value in header.items():
        text = re.sub(
            rf'(?m)^{label.replace(" ", "_")} = ""', f'{label.replace(" ", "_")} = "{value}"', text
        )
    first, *blocks = re.split(r"(?m)^(?=\[\[)", text)
    done = []
    for block in blocks:
        keys = dict(re.findall(r'(?m)^(\w+) = "(.*)"', block))
        typed = values.get((keys["part"], keys["feature"], keys.get("place", "")))
        if typed is not None:
            shown = f'"{typed}"' if isinstance(typed, str) else repr(typed)
            filled = block.replace('value = ""', f"value = {shown}")
            done.append(filled.replace('gauge = ""', 'gauge = "C1"'))
        else:
            done.append(block.replace('answer = ""', 'answer = "in order"'))
    return (first + "".join(done)).encode()


def _xlsx(blank: BlankSheet, values: Values, header: Mapping[str, str]) -> bytes:
    import openpyxl

    book = openpyxl.load_workbook(io.BytesIO(blank_xlsx(blank)))
    for row in book["Job"].iter_rows(min_row=2):
        if str(row[0].value) in header:
            row[1].value = header[str(row[0].value)]
    sheet = book["Readings"]
    columns = {str(cell.value): number for number, cell in enumerate(sheet[3])}
    for row in sheet.iter_rows(min_row=4):
        line = [cell.value for cell in row]
        if line[0] and not str(line[0]).startswith("#"):
            _fill_cells(columns, line, values, _looks(blank))
            for cell, value in zip(row, line, strict=True):
                cell.value = value
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@pytest.fixture(scope="session")
def as_new_values(blank: BlankSheet) -> dict[tuple[str, str, str], str | float]:
    """Every reading as new; 10 where as new is not known."""
    return values_of(blank)


def values_of(blank: BlankSheet) -> dict[tuple[str, str, str], str | float]:
    return {
        (row.part, row.feature, row.place): (
            10.0 if row.as_new == "not known" else float(row.as_new.rstrip("°").split()[0])
        )
        for row in blank.rows
        if row.measured
    }
