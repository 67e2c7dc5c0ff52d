"""The blank job sheet: every point of the design with its as-new value, limit and room."""

from __future__ import annotations

import datetime
import io
import re
from collections.abc import Callable
from typing import Any

import pikepdf
import pytest

from hoistwright.basis.loading import shipped_basis
from hoistwright.certificate.blank_pdf import blank_data, render_blank
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.sheet.blank import BlankSheet, blank_rows

Words = Callable[[bytes], str]

DAY = datetime.date(2026, 3, 9)


def blank(key: str, units: Any = "mm") -> BlankSheet:
    bases = [shipped_basis("b30-hand-hoists"), shipped_basis("workshop-practice")]
    return blank_rows(shipped(key), bases, DAY, units=units, job="KQ-0412", hoist__serial="A 2210")


@pytest.mark.parametrize("key", shipped_keys())
def test_every_point_is_asked_for(key: str, words: Words) -> None:
    sheet = blank(key)
    text = words(render_blank(blank_data(sheet)))
    assert len(sheet.rows) > 50
    for section in sheet.sections:
        assert section.name[0].upper() + section.name[1:] in text
        assert re.sub(r"\s+", " ", section.caution) in text
    for row in sheet.rows:
        for piece in (row.name, row.place, row.ask, row.as_new, row.limit):
            assert re.sub(r"\s+", " ", piece) in text, (row.part, row.name)


def test_one_row_for_each_point_and_a_box_for_each_answer(words: Words) -> None:
    sheet = blank("ardle-2000")
    data = blank_data(sheet)
    rows = [row for section in data["sections"] for row in section["rows"]]
    assert len(rows) == len(sheet.rows)
    looks = [row for row in rows if not row["measured"]]
    assert all(row["boxes"] == ["in order", "defect", "not looked"] for row in looks)
    text = words(render_blank(data))
    assert text.count("not looked") == len(looks)


def test_what_is_filled_in_stands_there_and_the_cautions_too(words: Words) -> None:
    text = words(render_blank(blank_data(blank("ardle-2000"))))
    assert "A 2210" in text and "KQ-0412" in text
    assert "Nobody stands, reaches or walks under a load." in text
    assert "unknown is not fit" in text
    assert "The design is invented." in text


def test_same_sheet_same_bytes_and_no_raster() -> None:
    data = blank_data(blank("ardle-500", "in"))
    pdf = render_blank(data, "us-letter")
    assert render_blank(blank_data(blank("ardle-500", "in")), "us-letter") == pdf
    with pikepdf.open(io.BytesIO(pdf)) as document:
        assert [float(x) for x in document.pages[0].MediaBox] == [0.0, 0.0, 612.0, 792.0]
        assert bool(document.Root.MarkInfo.Marked)
        streams = [o for o in document.objects if isinstance(o, pikepdf.Stream)]
        assert not [o for o in streams if o.get("/Subtype") == "/Image"]
