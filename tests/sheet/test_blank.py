"""A blank sheet asks exactly what must be looked at and measured, with as-new values and limits."""

import datetime
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from hoistwright.basis.loading import shipped_basis
from hoistwright.basis.rulings import rulings
from hoistwright.examine.points import points
from hoistwright.faults import FaultsError
from hoistwright.hoist.library import shipped
from hoistwright.sheet import BlankSheet, blank_rows, write_blank
from hoistwright.sheet.limit_words import reading_limit

DAY = datetime.date(2026, 11, 25)


def test_every_point_has_one_row_and_no_row_is_without_a_point(blank: BlankSheet) -> None:
    asked = [(row.part, row.feature, row.place) for row in blank.rows]
    wanted = [(p.part, p.feature.partition(".")[2], p.place) for p in points(blank.design, ())]
    assert asked == wanted
    assert len(set(asked)) == len(asked)


def test_limits_are_readings(blank: BlankSheet) -> None:
    """From the design and the basis by hand: 31 mm bowl width, 10 % loss: 27.9 mm; and a gauge
    length of n links of pitch p is done at n p + 2 d + limit n p.
    """
    rows = {(row.part, row.feature, row.place): row for row in blank.rows}
    width = rows["top_hook", "bowl_width", ""]
    assert (width.as_new, width.unit) == ("31 mm", "mm")
    assert "at least 27.9 mm (loss 10 %)" in width.limit
    assert rows["load_chain", "gauge_length", "unworn"].limit == "stands for as new"
    assert not rows["load_chain", "gauge_length", "unworn"].required
    assert rows["load_chain", "cracks", ""].boxes == ("in order", "defect", "not looked")


def test_a_reading_at_the_printed_limit_stands_at_the_limit() -> None:
    """Each comparison as `hoist/limits.py` defines it, put in with the reading printed."""
    design = shipped("ardle-2000")
    pitch = design.load_chain.pitch
    assert pitch is not None
    compared: dict[str, Callable[..., float]] = {
        "elongation": lambda x, new, links: (x - new) / (links * pitch),
        "rise from as new": lambda x, new, _: (x - new) / new,
        "loss from as new": lambda x, new, _: (new - x) / new,
        "rise by": lambda x, new, _: x - new,
        "loss by": lambda x, new, _: new - x,
        "at most": lambda x, *_: x,
        "at least": lambda x, *_: x,
    }
    bases = [shipped_basis("b30-hand-hoists"), shipped_basis("europe-round-link")]
    met = set()
    for point in points(design, rulings(design, bases, DAY)):
        for ruling in point.rulings:
            limit = reading_limit(design, point, ruling)
            if limit is not None:
                new = point.baseline.value if point.baseline else None
                judged = compared[ruling.comparison](limit, new, point.links)
                assert judged == pytest.approx(ruling.limit_si, rel=1e-9)
                met.add(ruling.comparison)
    assert {"elongation", "rise from as new", "loss from as new"} <= met


def test_inches_are_shown_where_inches_are_asked_for(make_blank: Callable[..., BlankSheet]) -> None:
    blank = make_blank(units="in")
    lengths = [row for row in blank.rows if row.unit == "in"]
    assert lengths
    stated = re.compile(r"\(.*?\)")  # in brackets stands the limit as its source states it
    assert not any(" mm" in row.as_new + stated.sub("", row.limit) for row in blank.rows)
    width = next(row for row in lengths if row.feature == "bowl_width")
    assert width.as_new == "1.2205 in"  # 31 / 25.4


def test_header_lines_can_be_filled_before(make_blank: Callable[..., BlankSheet]) -> None:
    blank = make_blank(hoist__serial="A-2210", customer__name="Pelorus Boatyard")
    filled = {line.key: value for line, value in blank.header if value}
    assert filled == {
        "format": "1",
        "job": "KQ-0412",
        "design": "ardle-2000",
        "hoist.serial": "A-2210",
        "customer.name": "Pelorus Boatyard",
        "work.bases": "b30-hand-hoists",
        "sheet.units": "mm",
    }


def test_a_header_line_that_there_is_not_is_refused(blank: BlankSheet) -> None:
    with pytest.raises(ValueError, match=r"header lines hoist\.colour; expected some of"):
        blank_rows(blank.design, blank.bases, DAY, hoist__colour="red")


def test_a_file_that_is_there_is_not_written_over(blank: BlankSheet, tmp_path: Path) -> None:
    path = tmp_path / "sheet.csv"
    path.write_text("readings of a whole day")
    with pytest.raises(FaultsError, match="it may hold readings"):
        write_blank(path, blank)
    assert path.read_text() == "readings of a whole day"


@pytest.mark.parametrize("name", ["sheet.ods", "none/sheet.csv"])
def test_a_file_that_cannot_be_written_is_named(
    name: str, blank: BlankSheet, tmp_path: Any
) -> None:
    with pytest.raises(FaultsError, match=name):
        write_blank(tmp_path / name, blank)


@pytest.mark.parametrize("suffix", [".toml", ".csv", ".xlsx"])
def test_the_same_sheet_has_the_same_bytes(suffix: str, blank: BlankSheet, tmp_path: Path) -> None:
    for name in ("a", "b"):
        write_blank(tmp_path / (name + suffix), blank)
    assert (tmp_path / f"a{suffix}").read_bytes() == (tmp_path / f"b{suffix}").read_bytes()
