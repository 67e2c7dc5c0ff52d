"""No character disappears: it is shown, or named."""

from __future__ import annotations

import pypdfium2
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.certificate.glyphs import breakable, coverage, font_folder, missing, shown


def test_the_cmap_agrees_with_another_reader() -> None:
    """Code points that PIL's FreeType draws as something else than the missing glyph."""
    from PIL import ImageFont

    font = ImageFont.truetype(str(font_folder() / "NotoSans-Regular.ttf"), 20)
    nothing = bytes(font.getmask("\U0010fffd"))
    for sign in "aÄßŁЖΩ€±°‹›漢あ字☐":
        drawn = bytes(font.getmask(sign)) != nothing
        assert drawn == (ord(sign) in coverage()), sign


def test_signs_that_the_reports_use_are_there() -> None:
    for sign in "√∞±°²³µνΣΔα≤≥→−–—…‹›·×":
        assert ord(sign) in coverage(), sign


@given(st.text())
def test_whatever_is_typed_is_covered_or_named(text: str) -> None:
    out = shown(text)
    assert all(ord(sign) in coverage() for sign in out)
    for sign in missing(text):
        assert f"‹U+{ord(sign):04X}›" in out


@given(st.text(alphabet="ab -/", max_size=200))
def test_breaking_changes_no_letter(text: str) -> None:
    assert breakable(text).replace("\u200b", "") == text
    assert max((len(w) for w in breakable(text).replace("\u200b", " ").split()), default=0) <= 200


def test_direction_marks_cannot_hide(tmp_path: object) -> None:
    """A right-to-left override would turn a serial number about."""
    assert shown("12\u202e34") == "12‹U+202E›34"


@settings(max_examples=15, deadline=None)
@given(
    st.text(
        alphabet=st.characters(codec="utf-8", categories=("L", "N", "P", "S")),
        min_size=1,
        max_size=12,
    )
)
def test_the_typesetter_prints_what_it_is_given(text: str) -> None:
    """Any text goes through to a PDF: nothing in it is taken for the typesetter's own words."""
    import datetime

    from hoistwright.certificate.typeset import typeset

    data = {
        "title": "x", "job": "1", "running": text, "software": "x", "is_not": ["a", text],
        "shop": {"name": text, "address": "", "demo": False}, "groups": [], "remarks": [text],
        "design": {"text": text, "invented": False, "note": ""},
        "outcome": {"sign": "fit", "word": "fit", "sentence": text}, "counts": [],
        "findings": [], "brief": {"rows": [], "left": 0}, "bases": [], "maker_rule": text,
        "splits": [], "parts": [], "not_established": [],
        "cautions": {"general": [], "parts": []},
        "people": [{"role": text, "name": text, "qualification": text}], "criteria": [],
        "budgets": [],
    }  # fmt: skip
    pdf = typeset("report", data, day=datetime.date(2026, 3, 9))
    document = pypdfium2.PdfDocument(pdf)
    assert len(document) >= 1
    document.close()
