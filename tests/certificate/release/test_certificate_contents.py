"""Every item of the law's list and of ISO/IEC 17025 stands on the paper and in the record."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any
from unittest.mock import patch

import pytest
from release_scene import ROOT, Scene, end_states

from hoistwright.basis.loading import shipped_basis
from hoistwright.certificate.release.page import certificate_page
from hoistwright.certificate.release.render import render
from hoistwright.language import language

DOCUMENT = (ROOT / "docs/certificates.md").read_text(encoding="utf-8")
ROWS = re.findall(
    r"^\| ((?:LOLER|ISO/IEC 17025) [^|]+?) \| ([^|]+?) \| ([^|]+?) \| `([\w.?]+)` \|$",
    DOCUMENT,
    re.M,
)
ITEMS_17025 = (
    [f"7.8.2.1 {letter}" for letter in "abcdefghijlmnop"]
    + ["7.8.2.2", "7.8.3.1 c", "7.8.5", "7.8.6", "7.8.8"]
)  # fmt: skip
"""ISO/IEC 17025:2017, from memory; k (sampling) does not apply."""


def at(record: dict[str, Any], path: str) -> Any:
    found: Any = record
    for key in path.rstrip("?").split("."):
        found = found[int(key)] if key.isdecimal() else found[key]
    return found


@pytest.fixture(scope="module")
def text(scene: Scene, words: Callable[[bytes], str]) -> str:
    return words(scene.issued.pdf)


def test_table_has_every_item_of_the_law() -> None:
    """The items of the shipped basis of LOLER 1998, Schedule 1."""
    wanted = [f"LOLER {item.number}" for item in shipped_basis("uk-loler").head.report_item]
    assert len(wanted) == 16
    assert [row[0] for row in ROWS if row[0].startswith("LOLER")] == wanted


def test_table_has_every_item_of_17025() -> None:
    found = [row[0].removeprefix("ISO/IEC 17025 ") for row in ROWS if row[0].startswith("ISO")]
    assert found == ITEMS_17025


@pytest.mark.parametrize("row", ROWS, ids=lambda row: str(row[0]))
def test_item_stands_on_the_paper_and_in_the_record(
    scene: Scene, text: str, row: tuple[str, str, str, str]
) -> None:
    _, _, label, path = row
    assert label in text
    value = at(scene.record(), path)
    if not path.endswith("?"):
        assert value not in (None, "", [], {})


def test_names_dates_and_loads_are_printed(scene: Scene, text: str) -> None:
    record = scene.record()
    wanted = [
        record["customer"]["name"], record["customer"]["premises"], record["hoist"]["serial"],
        record["number"], "2000 kg (2 t)", "2500.0 ± 1.4 kg", "held 600 s", "312 N ± 9 N",
        "Odile Brannagh", "Lifting equipment examiner", "6 Oct 2027", "5 Oct 2026", "9 Oct 2025",
        "7 Oct 2026", "spring broken, latch hangs open", "batch 26-118", "15 Jan 2027",
    ]  # fmt: skip
    for word in wanted:
        assert word in text, word


def test_each_page_carries_number_and_page_of_pages(
    scene: Scene, pages_of: Callable[[bytes], list[str]]
) -> None:
    """ISO/IEC 17025, 7.8.2.1 d."""
    pages = pages_of(scene.issued.pdf)
    for number, page in enumerate(pages, start=1):
        assert "KQ-2026-0042, revision 0" in page
        assert f"page {number} of {len(pages)}" in page
    assert "End of certificate KQ-2026-0042, revision 0" in pages[-1]


@pytest.mark.parametrize("state", end_states(), ids=lambda s: str(s.get("decision", "released")))
@pytest.mark.parametrize("lang", ["en", "fr"])
def test_every_way_out_is_told_in_both_languages(
    scene: Scene, words: Callable[[bytes], str], state: dict[str, Any], lang: Any
) -> None:
    decided = {
        "released": ("Safe to operate up to", "Utilisable en sécurité jusqu"),
        "released with lower rated load": (
            "lower rated load stated here",
            "charge nominale réduite",
        ),
        "returned unrepaired": ("do not lift with it", "ne rien lever avec"),
        "condemned": ("must never lift again", "ne doit plus jamais lever"),
    }
    said = decided[state.get("decision", "released")][lang == "fr"]
    text = words(render(scene.record(**state), code="x", lang=lang)).replace("’", "'")
    assert said in text
    made = state.get("made_unusable", "")
    assert made in text


def test_letter_and_a4_have_their_sizes(scene: Scene) -> None:
    """ISO 216: A4 is 210 x 297 mm; letter is 8.5 x 11 in; points of 1/72 in."""
    import pypdfium2

    for paper, size in (("a4", (595.28, 841.89)), ("letter", (612.0, 792.0))):
        made = render(scene.record(), code="x", paper=paper)  # type: ignore[arg-type]
        document = pypdfium2.PdfDocument(made)
        assert document[0].get_size() == pytest.approx(size, abs=0.1)
        document.close()


def test_draft_says_so(scene: Scene, words: Callable[[bytes], str]) -> None:
    assert "Draft: not signed" in words(render(scene.record()))
    assert "Draft" not in words(scene.issued.pdf)


def test_demonstration_says_so(scene: Scene, text: str) -> None:
    assert "Demonstration: shop, customer, hoist and readings are invented." in text


def test_french_page_has_no_english_word_of_ours(scene: Scene) -> None:
    """Every word of ours is in the French catalogue: a page never falls back to English."""
    asked: list[str] = []
    french = language("fr")

    with patch.object(type(french), "say", _listening(asked)):
        certificate_page(scene.record(), "x", "fr")
    entered = _entered(scene)
    missing = [
        word
        for word in dict.fromkeys(asked)
        if word and word not in entered and french.words.gettext(word) == word
        and word not in SAME
    ]  # fmt: skip
    assert missing == []


SAME = {
    "page", "Configuration", "Danger", "Source", "Verdict", "normal", "Qualification",
    "%(name)s. %(software)s.",
}  # fmt: skip
"""Words that are written alike in both languages."""


def _listening(asked: list[str]) -> Any:
    def say(self: Any, text: str, **values: object) -> str:
        asked.append(text)
        found = self.words.gettext(text) if text else ""
        return found % values if values else found

    return say


def _entered(scene: Scene) -> set[str]:
    """Names that come from design files and from people: they stay as they were entered."""
    record = scene.record()
    rows = [*record["figures"], *record["looks"]]
    names = {row[key] for row in rows for key in ("part_name", "feature_name")}
    return (
        names
        | {item["name"] for item in record["work"]}
        | {item["done"] for item in record["defects"]}
    )


def test_inch_job_prints_pounds_and_kilograms(scene: Scene, words: Callable[[bytes], str]) -> None:
    """2000 kg are 4409 lb (1 lb = 0.45359237 kg)."""
    text = words(render({**scene.record(), "units": "in"}, code="x"))
    assert re.search(r"4409(\.\d+)? lb \(2000 kg\)", text)


def test_signs_that_the_typeface_lacks_are_told(
    scene: Scene, words: Callable[[bytes], str]
) -> None:
    record = scene.record(remarks="岸 crane")
    assert "‹U+5CB8› crane" in words(render(record, code="x"))
