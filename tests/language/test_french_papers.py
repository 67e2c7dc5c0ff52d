"""French papers: nothing of ours in English, figures and days as French writes them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import attrs
import pypdfium2
import pytest
from spoken import what_stays_english
from what_papers_say import (
    blank,
    demo_shop,
    examined,
    french_step_sheets,
    make_french_reports,
    make_french_sheets,
)

from hoistwright.certificate.blank_pdf import blank_data, render_blank
from hoistwright.certificate.report import render_report, report_data
from hoistwright.certificate.steps_pdf import render_steps
from hoistwright.certificate.template_words import texts_of
from hoistwright.certificate.typeset import Paper
from hoistwright.examine.result import Examination
from hoistwright.hoist.library import shipped_keys
from hoistwright.job.job_sheet import Customer, HoistIdentity, JobSheet
from hoistwright.job.shop import Shop
from hoistwright.language import language

ENGLISH = (
    "the", "and", "is", "of", "with", "not", "was", "were", "this", "that", "it", "its", "from",
    "must", "be", "has", "have", "at", "by", "for", "hook", "chain", "brake", "gauge", "reading",
    "readings", "limit", "worn", "wear", "fit", "renew", "look", "looked", "measure", "page",
    "number", "to", "as", "new", "lever", "hoist", "sheave", "disc", "shaft", "beyond", "where",
    "which", "only", "year", "memory", "clause", "edition", "source", "criterion", "basis",
)  # fmt: skip
SAME = {"page", "source"}
"""Words of that list that are French too."""


def test_reports_say_nothing_in_english() -> None:
    with what_stays_english() as lacking:
        make_french_reports()
    assert lacking == {}


def test_blank_sheets_say_nothing_in_english() -> None:
    with what_stays_english() as lacking:
        make_french_sheets()
    assert lacking == {}


@pytest.mark.parametrize("key", shipped_keys())
def test_strip_and_rebuild_sheets_say_nothing_in_english(key: str) -> None:
    with what_stays_english() as lacking:
        made = french_step_sheets(key)
    assert lacking == {}
    for data in made:
        assert {text: words_left(text) for text in strings(data) if words_left(text)} == {}


@pytest.mark.parametrize("template", ["report", "job_sheet", "steps"])
def test_words_of_the_templates_have_their_french(template: str) -> None:
    french = language("fr")
    found = texts_of(template)
    assert len(found) > 15
    assert [text for text in found if not french.knows(text)] == []


def words_left(text: str) -> set[str]:
    """English words in a text. What stands in keys (b30-hook-cracks, hook.throat) is no word."""
    plain = re.sub(r"[\w.]*[-_.][\w.-]*\w", " ", text)
    found = {word.casefold() for word in re.findall(r"[A-Za-zÀ-ÿ]+", plain)}
    return found & set(ENGLISH) - SAME


def without_typed(pair: tuple[Examination, JobSheet]) -> tuple[Examination, JobSheet]:
    """The same without what people typed in their own English."""
    found, sheet = pair
    quiet = attrs.evolve(
        sheet,
        hoist=HoistIdentity(serial="A 1", rated_load=2000.0),
        customer=Customer(),
        work=attrs.evolve(sheet.work, complaint="", remark=""),
    )
    verdicts = tuple(attrs.evolve(v, remark="", photo="") for v in found.verdicts)
    return attrs.evolve(found, verdicts=verdicts), quiet


def typed_names(shop: Shop) -> Iterator[str]:
    """Names that the shop gave: of itself, its people, gauges and comparisons."""
    yield from (shop.name, shop.address)
    yield from (text for p in shop.people for text in (p.name, p.qualification))
    yield from (gauge.name for gauge in shop.gauges)
    yield from (adoption.compared_with for adoption in shop.adoptions)


def strings(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, item in value.items():
            if key not in ("ruler", "picture", "digest", "key", "software", "criterion", "sign"):
                yield from strings(item)
    elif isinstance(value, list | tuple):
        for item in value:
            yield from strings(item)


PAIRS = examined()


@pytest.mark.parametrize("at", range(len(PAIRS)), ids=lambda at: PAIRS[at][1].job)
def test_no_english_word_is_left_in_a_report(at: int) -> None:
    """By a list of words that does not know the catalogues."""
    shop = demo_shop()
    names = sorted(typed_names(shop), key=len, reverse=True)
    found: dict[str, set[str]] = {}
    for text in strings(report_data(*without_typed(PAIRS[at]), shop, "fr")):
        bare = text
        for name in names:
            bare = bare.replace(name, " ") if name else bare
        if words_left(bare):
            found[text] = words_left(bare)
    assert found == {}


@pytest.mark.parametrize("key", shipped_keys())
def test_no_english_word_is_left_in_a_blank_sheet(key: str) -> None:
    data = blank_data(blank(key))
    assert {text: words_left(text) for text in strings(data) if words_left(text)} == {}


def text_of(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    pages = [page.get_textpage().get_text_range() for page in document]
    document.close()
    return re.sub(r"\s+", " ", " ".join(pages).replace("\ufffe", "-"))


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_a_french_report_as_a_technician_reads_it(paper: Paper) -> None:
    """KQ-0403: the demo's overstrained chain with its opened hook."""
    pair = next(pair for pair in PAIRS if pair[1].job == "KQ-0403")
    text = text_of(render_report(report_data(*pair, demo_shop(), "fr"), paper))
    for words in (
        "Rapport d’examen",
        "n’est pas un certificat de remise en service",
        "palan à chaîne manuel",
        "La chaîne de charge a été surchargée",
        "Un crochet s’est ouvert",
        "7 octobre 2026",
        "au plus 2,5 %",
        "Annexe B",
        "page 1 sur",
    ):
        assert words in text
    assert not re.search(r"\d\.\d+ (mm|%)", text), "a decimal point before a unit"


def test_the_papers_language_is_told_to_screen_readers() -> None:
    """PDF/UA: the document's language, by which a screen reader chooses its voice."""
    for pdf in (
        render_report(report_data(*PAIRS[0], demo_shop(), "fr")),
        render_blank(blank_data(blank("ardle-2000"))),
        render_steps(french_step_sheets("ardle-500")[0]),
    ):
        assert re.search(rb"/Lang\s*\(fr", pdf)


def test_english_and_french_reports_say_the_same_figures() -> None:
    """Every figure of one stands in the other: nothing is lost in translation."""
    shop, pair = demo_shop(), PAIRS[1]

    def figures(lang: str) -> list[list[str]]:
        rows = [row for part in report_data(*pair, shop, lang)["parts"] for row in part["rows"]]
        found = [[row.get(key, "") for key in ("reading", "as_new", "k")] for row in rows]
        mark = language(lang).decimal
        return [re.findall(rf"\d+{re.escape(mark)}\d+", " ".join(row)) for row in found]

    english, french = figures("en"), figures("fr")
    assert sum(map(len, english)) > 50
    assert [[text.replace(",", ".") for text in row] for row in french] == english
