"""Three decimals of an inch look like thousands: the as-new value settles which is meant."""

from __future__ import annotations

from pathlib import Path

import pytest

from hoistwright.faults import FaultsError
from hoistwright.sheet import read_sheet

SHEET = """format = 1
job = "T-1"
design = "ardle-2000"
[work]
examined_on = 2026-11-02
examined_by = "x"
bases = ["b30-hand-hoists"]
[sheet]
units = "in"
[[reading]]
part = "top_hook"
feature = "saddle_depth"
value = "{typed}"
"""


@pytest.mark.parametrize(
    ("typed", "millimetres"), [("1.409", 35.7886), ("1,409", 35.7886), ("1.41", 35.814)]
)
def test_the_one_near_as_new_is_meant(tmp_path: Path, typed: str, millimetres: float) -> None:
    path = tmp_path / "s.toml"
    path.write_text(SHEET.format(typed=typed), encoding="utf-8")
    value = read_sheet(path).readings[0].values[0]
    assert value == pytest.approx(millimetres / 1e3, rel=1e-12)


def test_where_neither_is_near_it_is_asked_back(tmp_path: Path) -> None:
    path = tmp_path / "s.toml"
    path.write_text(SHEET.format(typed="9.876"), encoding="utf-8")
    with pytest.raises(FaultsError, match="can be read as"):
        read_sheet(path)
