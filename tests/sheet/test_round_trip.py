"""A blank sheet, filled and read back: whole in every format, in either unit and decimal mark."""

import datetime
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.shop import Shop
from hoistwright.quantity import Dimension
from hoistwright.sheet import BlankSheet, read_sheet, sheet_toml

SUFFIXES = (".toml", ".csv", ".xlsx")
TODAY = datetime.date(2026, 11, 26)


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_a_filled_blank_reads_back_whole(
    suffix: str, blank: BlankSheet, as_new_values: Any, fill: Any, save: Any, shop: Shop
) -> None:
    path = save("sheet" + suffix, fill(suffix, blank, as_new_values))
    sheet = read_sheet(path, shop=shop, today=TODAY)
    rows = blank.rows
    assert len(sheet.readings) == sum(row.measured for row in rows) > 30
    assert len(sheet.looks) == sum(not row.measured for row in rows) > 40
    assert {look.answer for look in sheet.looks} == {"in order"}
    assert {reading.gauge for reading in sheet.readings} == {"C1"}
    assert (sheet.job, sheet.design, sheet.work.bases) == (
        "KQ-0412",
        "ardle-2000",
        ("b30-hand-hoists",),
    )


def test_the_three_formats_say_the_same(
    blank: BlankSheet, as_new_values: Any, fill: Any, save: Any
) -> None:
    sheets = [
        read_sheet(save("sheet" + suffix, fill(suffix, blank, as_new_values)))
        for suffix in SUFFIXES
    ]
    assert sheets[0] == sheets[1] == sheets[2]


@pytest.mark.parametrize("suffix", SUFFIXES)
@pytest.mark.parametrize("key", ["ardle-10000", "ardle-l750", "ardle-2000-ol"])
def test_every_kind_of_design_has_a_sheet_that_reads_back(
    key: str, suffix: str, make_blank: Callable[..., BlankSheet], fill: Any, save: Any
) -> None:
    blank = make_blank(key)
    values = {
        (row.part, row.feature, row.place): (
            10.0 if row.as_new == "not known" else float(row.as_new.rstrip("°").split()[0])
        )
        for row in blank.rows
        if row.measured
    }
    sheet = read_sheet(save("sheet" + suffix, fill(suffix, blank, values)))
    assert len(sheet.readings) + len(sheet.looks) == len(blank.rows)


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_an_unfilled_row_is_no_reading(
    suffix: str, blank: BlankSheet, fill: Any, save: Any
) -> None:
    sheet = read_sheet(save("sheet" + suffix, fill(suffix, blank, {})))
    assert sheet.readings == ()


def _sixteenths(blank: BlankSheet) -> dict[tuple[str, str, str], int]:
    """The reading of every length in whole sixteenths of an inch, near as new."""
    return {
        (row.part, row.feature, row.place): max(1, round(float(row.as_new.split()[0]) / 25.4 * 16))
        for row in blank.rows
        if row.measured and row.dimension is Dimension.LENGTH and row.as_new.endswith(" mm")
    }


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_millimetres_and_inches_are_the_same_reading(
    suffix: str, make_blank: Callable[..., BlankSheet], fill: Any, save: Any
) -> None:
    """1 in = 25.4 mm exactly (international yard and pound agreement of 1959)."""
    millimetres, inches = make_blank(), make_blank(units="in")
    parts = _sixteenths(millimetres)
    metric = {at: str(float(Fraction(254 * n, 160))) for at, n in parts.items()}
    imperial = {at: f"{n // 16} {n % 16}/16" if n % 16 else str(n // 16) for at, n in parts.items()}
    imperial = {at: text.removeprefix("0 ") for at, text in imperial.items()}
    point = {"decimal mark": "point", "decimal": "point"}
    a = read_sheet(save("a" + suffix, fill(suffix, millimetres, metric, point)))
    b = read_sheet(save("b" + suffix, fill(suffix, inches, imperial)))
    assert (a.units, b.units) == ("mm", "in")
    assert len(a.readings) == len(b.readings) > 20
    for one, other in zip(a.readings, b.readings, strict=True):
        assert (one.part, one.feature, one.place) == (other.part, other.feature, other.place)
        assert one.values == pytest.approx(other.values, rel=1e-12)


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_comma_and_point_are_the_same_reading(
    suffix: str, blank: BlankSheet, as_new_values: Any, fill: Any, save: Any
) -> None:
    point = {at: f"{value:.2f}" for at, value in as_new_values.items()}
    comma = {at: text.replace(".", ",") for at, text in point.items()}
    a = read_sheet(save("a" + suffix, fill(suffix, blank, point)))
    b = read_sheet(save("b" + suffix, fill(suffix, blank, comma)))
    stated = {"decimal mark": "comma", "decimal": "comma"}
    c = read_sheet(save("c" + suffix, fill(suffix, blank, comma, stated)))
    assert a == b == c


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_a_read_sheet_is_the_same_as_toml(
    suffix: str, blank: BlankSheet, as_new_values: Any, fill: Any, save: Any
) -> None:
    sheet = read_sheet(save("sheet" + suffix, fill(suffix, blank, as_new_values)))
    assert _again(sheet, save) == sheet


def _again(sheet: JobSheet, save: Callable[[str, str], Path]) -> JobSheet:
    return read_sheet(save("again.toml", sheet_toml(sheet)))
