"""The report of examination: what must be in it, read back from the PDF itself."""

from __future__ import annotations

import io
import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import attrs
import pikepdf
import pypdfium2
import pytest

from hoistwright.certificate.report import IN_BRIEF, render_report, report_data
from hoistwright.examine.chain_split import ChainSplit, SplitKind
from hoistwright.examine.result import Examination
from hoistwright.examine.words import limit_text, probability_text
from hoistwright.job.job_sheet import Customer, HoistIdentity
from hoistwright.metrology import Outcome
from hoistwright.quantity import in_unit, show_interval

Words = Callable[[bytes], str]


def squeezed(text: str) -> str:
    """One space for each run of white space, and no places to break."""
    text = text.replace("\ufffe", "-").replace("\u200b", "")
    return re.sub(r"\s+", " ", text)


@pytest.fixture(scope="module")
def data(sample: Any) -> dict[str, Any]:
    return report_data(sample.examination, sample.sheet, sample.shop)


@pytest.fixture(scope="module")
def pdf(data: dict[str, Any]) -> bytes:
    return render_report(data)


@pytest.fixture(scope="module")
def text(pdf: bytes, words: Words) -> str:
    return words(pdf)


def test_it_says_what_it_is_not(text: str) -> None:
    assert "not a certificate of release and does not permit use" in text
    assert "A named competent person decides and signs." in text
    assert "The maker's manual and the law of the place" in text


def test_every_page_carries_job_and_number(pdf: bytes) -> None:
    document = pypdfium2.PdfDocument(pdf)
    count = len(document)
    for number, page in enumerate(document, start=1):
        part = page.get_textpage()
        found = squeezed(part.get_text_range())
        part.close()
        page.close()
        assert f"page {number} of {count}" in found
        assert "J-2026-014" in found
        assert "advice for a competent person" in found
    document.close()


def test_every_judged_figure_stands_in_it(sample: Any, text: str) -> None:
    """Reading with U, judged figure with its U, limit, acceptance limit, probability."""
    judged = [v for v in sample.examination.verdicts if v.judgement]
    assert len(judged) > 10
    for verdict in judged:
        found = verdict.judgement
        unit = "°" if verdict.dimension.value == "angle" else "mm"
        reading = show_interval(
            found.reading, 2 * found.reading_uncertainty, verdict.dimension, unit
        )
        assert squeezed(reading) in text, verdict.title
        assert squeezed(limit_text(verdict)) in text
        assert squeezed(probability_text(verdict)) in text


def test_every_repeat_stands_in_it_as_typed(sample: Any, text: str) -> None:
    for reading in sample.sheet.readings:
        if reading.place == "unworn":  # stands for as new, with its own line in the budget
            continue
        dimension = next(
            p.dimension
            for p in sample.examination.points
            if (p.part, p.feature) == (reading.part, reading.feature)
        )
        for value in reading.values:
            assert f"{in_unit(value, dimension, reading.unit):.9g}" in text


def test_every_criterion_leads_to_source_clause_and_edition(sample: Any, text: str) -> None:
    for verdict in sample.examination.verdicts:
        if verdict.ruling is None:
            continue
        for statement in (verdict.ruling.stands, *verdict.ruling.shown_besides):
            for piece in (statement.source, statement.clause, statement.edition):
                assert squeezed(piece) in text


def test_numbers_of_criteria_point_to_their_own_row(sample: Any, data: dict[str, Any]) -> None:
    """The number beside a verdict is the number of the criterion that judged it."""
    by_number = {item["number"]: item for item in data["criteria"]}
    assert sorted(by_number) == list(range(1, len(by_number) + 1))
    parts = {part.name: part for part in sample.examination.parts}
    for block in data["parts"]:
        for row, verdict in zip(block["rows"], parts[block["name"]].verdicts, strict=True):
            if verdict.ruling is None:
                assert row["ref"] is None
            else:
                assert by_number[row["ref"]]["criterion"] == verdict.ruling.stands.criterion
                assert by_number[row["ref"]]["clause"] == verdict.ruling.clause


def test_budgets_add_up_to_the_uncertainty_they_explain(data: dict[str, Any]) -> None:
    """Shares of the variance come to 100 % (each rounded to 1 %, small ones not counted)."""
    assert data["budgets"]
    for budget in data["budgets"]:
        shares = [c["share"] for c in budget["components"]]
        total = sum(int(s.removesuffix(" %")) for s in shares if not s.startswith("<"))
        assert abs(total - 100) <= len(shares)


def test_all_that_is_not_established_is_listed(
    sample: Any, data: dict[str, Any], text: str
) -> None:
    missing = sample.examination.not_established
    assert len(data["not_established"]) == len(missing) > 5
    listed = text[text.index("6 Not established") : text.index("7 Cautions")]
    for verdict in missing:
        assert squeezed(verdict.title) in listed
        assert squeezed(verdict.next_step) in listed


def test_verdict_words_and_findings_stand_in_it(sample: Any, text: str) -> None:
    assert {v.outcome for v in sample.examination.verdicts} == set(Outcome)
    for outcome in Outcome:
        assert outcome.words in text
    for finding in sample.examination.findings:
        assert squeezed(finding.sentence) in text
        assert squeezed(finding.next_step) in text
    assert "wet with gear oil, runs from the seal" in text
    assert "disc-wet-1.jpg" in text


def test_the_brief_holds_the_worst_and_counts_the_rest(sample: Any, data: dict[str, Any]) -> None:
    unfit = [v for v in sample.examination.worst_first if v.outcome is not Outcome.FIT]
    brief = data["brief"]
    assert [row["title"] for row in brief["rows"]] == [v.title for v in unfit[:IN_BRIEF]]
    assert len(brief["rows"]) + brief["left"] == len(unfit)


def test_the_brief_says_what_was_seen(sample: Any) -> None:
    """ "Found defective" alone tells a customer nothing; a long remark is cut there."""
    bad = next(v for v in sample.examination.worst_first if v.judgement is None)
    for remark, shown in (("rusted through", "rusted through"), ("long " * 90, "…")):
        verdicts = (attrs.evolve(bad, outcome=Outcome.RENEW, remark=remark),)
        told = report_data(
            attrs.evolve(sample.examination, verdicts=verdicts), sample.sheet, sample.shop
        )
        (row,) = told["brief"]["rows"]
        assert row["figures"].endswith(shown)
        assert len(row["figures"]) < 200


def test_the_signatures_are_left_blank(text: str) -> None:
    assert "Maren Wick" in text and "hoist fitter, shop training 2021" in text
    assert "Competent person, who decides" in text
    assert "Signature" in text


def test_an_invented_design_and_a_demo_shop_say_so(text: str) -> None:
    assert "The design is invented." in text
    assert "shop, customer, hoist and readings are invented" in text


def test_a_basis_that_is_not_adopted_says_so(text: str) -> None:
    assert "Not every basis used is adopted by this shop" in text
    assert "Not adopted as it stands." in text


def test_same_input_same_bytes(data: dict[str, Any], pdf: bytes, tmp_path: Path) -> None:
    """Again here, and in another process with another working folder, clock zone and locale."""
    assert render_report(json.loads(json.dumps(data))) == pdf
    (tmp_path / "data.json").write_text(json.dumps(data), encoding="utf-8")
    script = (
        "import json, sys; from pathlib import Path;"
        "from hoistwright.certificate.report import render_report;"
        "data = json.loads(Path('data.json').read_text(encoding='utf-8'));"
        "Path('out.pdf').write_bytes(render_report(data))"
    )
    env = {**os.environ, "TZ": "Pacific/Auckland", "LC_ALL": "C", "PYTHONHASHSEED": "7"}
    subprocess.run([sys.executable, "-c", script], cwd=tmp_path, env=env, check=True)
    assert (tmp_path / "out.pdf").read_bytes() == pdf


def test_pictures_are_drawn_not_painted(pdf: bytes) -> None:
    """No image of dots anywhere: rulers and splits stay sharp at any size."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        for thing in document.objects:
            if isinstance(thing, pikepdf.Stream):
                assert thing.get("/Subtype") != "/Image"


def test_tagged_and_marked_for_keeping(pdf: bytes) -> None:
    """What ISO 19005-2 (level A) and ISO 14289-1 ask for at the top of the file, from memory.

    Not a validation: no validator was to be had.
    """
    with pikepdf.open(io.BytesIO(pdf)) as document:
        root = document.Root
        assert bool(root.MarkInfo.Marked)
        assert root.StructTreeRoot.K is not None
        assert str(root.Lang) == "en-GB"
        assert root.OutputIntents[0].S == "/GTS_PDFA1"
        with document.open_metadata() as meta:
            assert meta["pdfaid:part"] == "2"
            assert meta["pdfaid:conformance"] == "A"
            assert meta["pdfuaid:part"] == "1"
            assert meta["dc:title"] == "Report of examination"
            assert meta["xmp:CreateDate"].startswith("2026-03-09")
        programs = ("/FontFile2", "/FontFile3")
        held = [t for t in document.objects if isinstance(t, pikepdf.Dictionary)]
        fonts = [t for t in held if any(key in t for key in programs)]
        assert fonts, "typefaces are embedded"


def _kinds(node: Any, found: list[str], pictures: list[str]) -> None:
    for child in node.K if isinstance(node.get("/K"), pikepdf.Array) else []:
        if isinstance(child, pikepdf.Dictionary) and "/S" in child:
            found.append(str(child.S))
            if child.S == "/Figure":
                pictures.append(str(child.get("/Alt", "")))
            _kinds(child, found, pictures)


def test_tables_have_heads_and_pictures_have_words(sample: Any, pdf: bytes) -> None:
    found: list[str] = []
    pictures: list[str] = []
    with pikepdf.open(io.BytesIO(pdf)) as document:
        _kinds(document.Root.StructTreeRoot, found, pictures)
    assert {"/H1", "/Table", "/TH", "/TD", "/Figure"} <= set(found)
    assert all(pictures)
    rulers = [alt for alt in pictures if alt.startswith("Wear ruler: ")]
    assert len(rulers) >= len([v for v in sample.examination.verdicts if v.judgement])


@pytest.mark.parametrize(
    ("paper", "width", "height"), [("a4", 595.28, 841.89), ("us-letter", 612.0, 792.0)]
)
def test_paper_sizes(data: dict[str, Any], paper: Any, width: float, height: float) -> None:
    """210 x 297 mm (ISO 216), 8.5 x 11 in, in points of 1/72 in."""
    document = pypdfium2.PdfDocument(render_report(data, paper))
    assert document[0].get_size() == pytest.approx((width, height), abs=0.05)
    document.close()


def test_another_paper_is_refused(data: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="paper 'a5'; expected one of: a4, us-letter"):
        render_report(data, "a5")  # type: ignore[arg-type]


def test_nothing_known_still_makes_a_report(make_sample: Callable[..., Any], words: Words) -> None:
    sample = make_sample(hoist=HoistIdentity(), customer=Customer())
    text = words(render_report(report_data(sample.examination, sample.sheet, None)))
    assert "Serial number not stated" in text
    assert "Shop not stated" in text
    assert "mw (not in the shop file)" in text


def test_long_names_stay_on_the_paper(make_sample: Callable[..., Any]) -> None:
    """Every letter of a word as long as a line is inside the margins."""
    long = "W" * 120
    sample = make_sample(
        hoist=HoistIdentity(maker="Ardle", model=long, serial=long), customer=Customer(name=long)
    )
    pdf = render_report(report_data(sample.examination, sample.sheet, sample.shop))
    document = pypdfium2.PdfDocument(pdf)
    for page in document:
        part = page.get_textpage()
        edges = [part.get_charbox(at) for at in range(part.count_chars())]
        assert max(edge[2] for edge in edges) < page.get_width() - 30.0
        part.close()
        page.close()
    document.close()


def test_what_the_typeface_lacks_is_named(make_sample: Callable[..., Any], words: Words) -> None:
    sample = make_sample(hoist=HoistIdentity(maker="Ardle", model="2000", serial="漢字-7 Łódź Ж"))
    text = words(render_report(report_data(sample.examination, sample.sheet, sample.shop)))
    assert "‹U+6F22›‹U+5B57›-7 Łódź Ж" in text
    assert "U+6F22 CJK UNIFIED IDEOGRAPH-6F22" in text
    assert "�" not in text


def test_inches(make_sample: Callable[..., Any], words: Words) -> None:
    sample = make_sample(units="in")
    text = words(render_report(report_data(sample.examination, sample.sheet, sample.shop)))
    # 280.0 mm · 1.001 = 280.28 mm = 11.0346... in (1 in = 25.4 mm exactly)
    assert "11.03464" in text
    assert "4409.2 lb" in text


def _with_splits(examination: Examination) -> Examination:
    split = ChainSplit(
        part="load_chain", place="section 1", elongation=0.031, elongation_uncertainty=0.0004,
        wear=0.006, wear_uncertainty=0.0008, stretch=0.025, stretch_uncertainty=0.0009,
        kind=SplitKind.BOTH, sentence="Worn, and longer than the wear explains.",
    )  # fmt: skip
    return attrs.evolve(examination, splits=(split,))


def test_wear_and_overstrain_say_different_things(sample: Any, words: Words) -> None:
    examination = _with_splits(sample.examination)
    text = words(render_report(report_data(examination, sample.sheet, sample.shop)))
    assert "Load chain, section 1: worn and overstrained" in text
    assert "Lengthening 3.100 ± 0.080 %, wear 0.60 ± 0.16 %, stretch 2.50 ± 0.18 %" in text
    assert "Worn, and longer than the wear explains." in text


def test_hundreds_of_rows_keep_their_table_heads(sample: Any, data: dict[str, Any]) -> None:
    block = data["parts"][0]
    many = {**data, "parts": [{**block, "rows": block["rows"] * 30}]}
    document = pypdfium2.PdfDocument(render_report(many))
    inside = 0
    for page in document:
        part = page.get_textpage()
        text = squeezed(part.get_text_range())
        if "gauge length, section" in text and "fit up to" in text and "Wear ruler" in text:
            assert "Verdict What and where Found Held against Wear ruler" in text
            assert f"{block['name']}: {block['word']}" in text
            inside += 1
        part.close()
        page.close()
    document.close()
    assert inside > 10


def lowest(pdf: bytes) -> float:
    """Lower edge of the lowest letter of any page, in points; below 0 it is off the paper."""
    document = pypdfium2.PdfDocument(pdf)
    edges = []
    for page in document:
        part = page.get_textpage()
        edges += [part.get_charbox(at)[1] for at in range(part.count_chars())]
        part.close()
        page.close()
    document.close()
    return float(min(edges))


@pytest.mark.parametrize("measured", [True, False])
def test_a_remark_longer_than_a_page_is_not_cut_off(
    sample: Any, words: Words, measured: bool
) -> None:
    remark = " ".join(["oil"] * 4000) + " and here it ends"
    long = tuple(
        attrs.evolve(v, remark=remark) if v.measured is measured and v.ruling else v
        for v in sample.examination.verdicts[:12]
    )
    examination = attrs.evolve(sample.examination, verdicts=long)
    changed = sum(v.remark == remark for v in long)
    pdf = render_report(report_data(examination, sample.sheet, sample.shop))
    assert words(pdf).count("and here it ends") == changed > 0
    assert lowest(pdf) > 20.0, "a letter below the foot of its page"


@pytest.mark.parametrize(
    ("service", "periodic", "frequent"),
    [("normal", "12 months", "1 month"), ("severe", "3 months", "7 days")],
)
def test_intervals_are_those_of_the_service_class(
    make_sample: Callable[..., Any], service: Any, periodic: str, frequent: str
) -> None:
    """ASME B30.16 (periodic: text; frequent: from memory), for the hoist's own class only."""
    sample = make_sample()
    sheet = attrs.evolve(sample.sheet, work=attrs.evolve(sample.sheet.work, service=service))
    data = report_data(sample.examination, sheet, sample.shop)
    lines = next(b["intervals"] for b in data["bases"] if b["key"] == "b30-hand-hoists")
    assert any(f"{service} service (periodic): {periodic} at most" in line for line in lines)
    assert any(f"{service} service (frequent): {frequent} at most" in line for line in lines)
    assert len(lines) == 2
