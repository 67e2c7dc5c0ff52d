"""The examples of the documentation are read, and no line or column is undocumented."""

import re
from pathlib import Path
from typing import Any

from hoistwright.sheet import read_sheet
from hoistwright.sheet.bounds import MAX_ROWS, MAX_TEXT
from hoistwright.sheet.columns import COLUMNS, HEADER, NOTES

TEXT = (Path(__file__).parents[2] / "docs" / "job-sheets.md").read_text(encoding="utf-8")


def example(language: str) -> str:
    found = re.search(rf"```{language}\n(.*?)```", TEXT, re.DOTALL)
    assert found
    return found[1]


def test_the_examples_say_the_same(save: Any, shop: Any) -> None:
    toml = read_sheet(save("a.toml", example("toml")), shop=shop)
    csv = read_sheet(save("a.csv", example("csv")), shop=shop)
    assert toml == csv
    assert toml.readings[1].values == (0.073025,)  # 2.875 in times 25.4 mm


def test_every_header_line_and_column_is_described() -> None:
    for line in HEADER:
        assert f"`{line.key}`" in TEXT, line.key
        assert line.label in TEXT, line.label
    for column in (*COLUMNS, *NOTES):
        assert column in TEXT, column


def test_the_limits_of_size_are_those_of_the_code() -> None:
    assert f"{MAX_ROWS:,} rows, {MAX_TEXT:,} characters in a cell" in TEXT
