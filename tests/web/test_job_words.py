"""French on the pages of a job: nothing of them or of the feature catalogue left in English."""

from __future__ import annotations

import re
from pathlib import Path

import attrs
import pypdfium2
import pytest
from babel.messages.extract import extract_from_file
from bench_client import visitor
from bench_live import LiveBench
from messages import KEYWORDS, ROOT, Message, untranslated
from spoken import what_stays_english

from hoistwright.hoist.feature import catalogue
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.store.connect import reading, writing
from hoistwright.strip.plan import full_strip
from hoistwright.strip.rebuild import rebuild
from hoistwright.web.records.accounts import change_account, find_account

OWN = [
    *((ROOT / "web" / "templates" / "job").glob("*.html")),
    *((ROOT / "web" / "pages" / "job").glob("*.py")),
]
SAME = {("Photo",), ("correction",), ("Action",)}
"""Words that are the same in both languages."""


def _messages(path: Path) -> set[Message]:
    method = "jinja2" if path.suffix == ".html" else "python"
    found = extract_from_file(method, path, keywords=KEYWORDS)
    return {text if isinstance(text, tuple) else (text,) for _, text, *_ in found} - SAME


@pytest.mark.parametrize("path", OWN, ids=lambda path: path.name)
def test_pages_have_their_french(path: Path) -> None:
    assert untranslated("fr", _messages(path)) == []


def test_looks_and_measures_have_their_french() -> None:
    texts: set[Message] = set()
    for role in catalogue().values():
        texts |= {(role.caution,)}
        texts |= {(text,) for m in role.measure for text in (m.measurand, m.how)}
        texts |= {(text,) for look in role.look for text in (look.question, look.how)}
    assert untranslated("fr", texts - {("",)}) == []


@pytest.mark.parametrize("key", shipped_keys())
def test_steps_have_their_french(key: str) -> None:
    design = shipped(key)
    plan = full_strip(design)
    texts = {
        text
        for step in plan.steps
        for text in (step.name, step.caution, step.watch, step.tool, step.fastener)
    }
    for back in rebuild(design, plan).steps:
        texts |= {back.name, back.setting, back.marks, back.hold_point, back.watch}
        texts |= {item.where for item in back.treated}
    assert untranslated("fr", {(text,) for text in texts if text}) == []


def test_a_french_technician_sees_french(shop: LiveBench) -> None:
    shop.forget_attempts()
    with reading(shop.bench.engine) as conn:
        tim = find_account(conn, "tim")
    assert tim is not None
    with writing(shop.bench.engine) as conn:
        change_account(conn, attrs.evolve(tim, language="fr", units="in"))
    french = visitor(shop.bench, "tim")
    page = french.get("/jobs/KQ-0403/parts/load_chain").text
    drawing = french.get("/jobs/KQ-0403/drawing/wide").text
    with writing(shop.bench.engine) as conn:
        change_account(conn, tim)
    for words in ("chaîne de charge", "à remplacer", "la chaîne a été surchargée", "Remplacer"):
        assert words in page
    assert 'data-units="in" aria-current="true"' in page
    assert 'aria-label="chaîne de charge"' in drawing


PAGES = ("", "/booking", "/strip", "/examine", "/renew", "/rebuild", "/papers")


@pytest.mark.parametrize("job", ["KQ-0403", "KQ-0407", "KQ-0408", "KQ-0405", "KQ-0412"])
def test_nothing_of_a_job_stays_english(shop: LiveBench, job: str) -> None:
    """The pages from booking in to the rebuild, and every part: what engines say as well."""
    shop.forget_attempts()
    with reading(shop.bench.engine) as conn:
        tim = find_account(conn, "tim")
    assert tim is not None
    with writing(shop.bench.engine) as conn:
        change_account(conn, attrs.evolve(tim, language="fr"))
    french = visitor(shop.bench, "tim")
    parts = re.findall(rf'href="(/jobs/{job}/parts/\w+)"', french.get(f"/jobs/{job}/examine").text)
    paths = [*(f"/jobs/{job}{page}" for page in PAGES), *dict.fromkeys(parts)]
    with what_stays_english() as lacking:
        answers = [french.get(path) for path in paths]
    with writing(shop.bench.engine) as conn:
        change_account(conn, tim)
    assert {answer.status_code for answer in answers} == {200}
    assert len(parts) > 5
    assert lacking == {}


def _text_of(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    return " ".join(text.split())


def test_papers_come_in_the_customers_language(shop: LiveBench) -> None:
    """Chosen at booking in; the papers page offers the other language beside it."""
    shop.forget_attempts()
    job, titles = "KQ-0407", {"report": "Rapport d’examen", "blank": "Feuille de travail",
                              "strip": "Feuille de démontage",
                              "rebuild": "Feuille de remontage"}  # fmt: skip
    tim = visitor(shop.bench, "tim")
    booked = shop.bench.store.state(job).booked
    assert booked is not None
    assert booked.customer.language == ""
    same = {"do": "identity", "serial": booked.hoist.serial, "tag": booked.hoist.tag,
            "customer": booked.customer.name}  # fmt: skip
    assert tim.post(f"/jobs/{job}/booking", {**same, "paper_language": "fr"}).status_code < 400
    now = shop.bench.store.state(job).booked
    assert now is not None
    assert now.customer.language == "fr"
    assert 'lang="fr" aria-current="true"' in tim.get(f"/jobs/{job}/papers").text
    for paper, title in titles.items():
        assert title in _text_of(tim.get(f"/jobs/{job}/papers/{paper}").content)
    english = _text_of(tim.get(f"/jobs/{job}/papers/report?lang=en").content)
    assert "Report of examination" in english
    assert tim.post(f"/jobs/{job}/booking", {**same, "paper_language": ""}).status_code < 400
    after = shop.bench.store.state(job).booked
    assert after is not None
    assert after.customer.language == ""
