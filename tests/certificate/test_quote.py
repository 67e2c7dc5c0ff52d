"""The quote on paper: its words, sums and choices in both languages and on both papers."""

from __future__ import annotations

import datetime
import io
import re
from collections.abc import Callable

import attrs
import pikepdf
import pytest

from hoistwright.certificate.offer_svg import repair_svg, weighing_svg
from hoistwright.certificate.quote import QuotePaper, WearPicture, quote_data, render_quote
from hoistwright.demo.shop_files import demo_folder, demo_sheets
from hoistwright.hoist.library import shipped
from hoistwright.job.shop_file import load_shop
from hoistwright.pricing.read import read_prices
from hoistwright.renew.offer import Offer, offer
from hoistwright.renew.policy import Need, PartRisk
from hoistwright.sheet import read_sheet
from hoistwright.strip.plan import full_strip

Words = Callable[[bytes], str]

DAY = datetime.date(2026, 11, 25)
DESIGN = shipped("ardle-10000")
SHOP = load_shop(demo_folder() / "shop.toml")
BOOK = read_prices(demo_folder() / "prices.csv")


def offered(must: tuple[str, ...] = ("load_chain", "gear_case"), **risks: float) -> Offer:
    assert SHOP.charges is not None
    return offer(
        DESIGN,
        [Need(part=key, why=f"{DESIGN.part(key).name}: throat opening: the reading is at or "
                            "beyond the limit") for key in must],
        [PartRisk(part=key, probability=chance, why="") for key, chance in risks.items()],
        BOOK.of_design("ardle-10000"),
        SHOP.charges.policy(),
        already=[step.key for step in full_strip(DESIGN).steps],
        new_price=SHOP.charges.new_price("ardle-10000"),
        scrap_value=SHOP.charges.scrap,
    )  # fmt: skip


def paper(found: Offer) -> QuotePaper:
    return QuotePaper(
        number="KQ-0401-Q1",
        day=DAY,
        valid_until=DAY + datetime.timedelta(days=30),
        made_by="Odile Brannagh",
        offer=found,
        design=DESIGN,
        sheet=read_sheet(demo_sheets()[0]),
        shop=SHOP,
    )


WHOLE = offered(pawl=0.3, friction_disc_outer=0.2, disc_hub=0.02, stripper=0.0001)


def test_the_paper_says_must_advised_and_can_wait_with_their_prices(words: Words) -> None:
    text = words(render_quote(quote_data(paper(WHOLE)))).replace("\u00a0", " ")
    assert text.index("Must be renewed") < text.index("Advised while") < text.index("Can wait")
    for line in (*WHOLE.of("must"), *WHOLE.of("advised"), *WHOLE.named):
        assert line.name[0].upper() + line.name[1:] in text
    must = (line.price or 0 for line in WHOLE.of("must") if line.price)
    for amount in (*must, WHOLE.least.total, WHOLE.best.total):
        assert f"GBP {amount // 100:,}.{amount % 100:02d}" in text
    assert "1 more part was measured" in text
    assert "Stripper" not in text.split("Can wait")[1]


def test_what_has_no_price_is_on_request_and_said_to_be_in_no_sum(words: Words) -> None:
    assert WHOLE.open_prices == ("gear_case",)
    text = words(render_quote(quote_data(paper(WHOLE))))
    assert "on request" in text
    assert "Parts whose price is on request are not in the sums." in text
    assert "Parts without a price are not in it." in text


def test_it_says_until_when_without_which_tax_and_that_it_is_no_release(words: Words) -> None:
    text = words(render_quote(quote_data(paper(WHOLE))))
    for needed in (
        "valid until 25 December 2026", "Without VAT", "This quote is no release",
        "nobody lifts with the hoist before its certificate", "The maker's manual and the law",
        "is not released. It goes back unrepaired", "Signature", "prices are invented",
    ):  # fmt: skip
        assert needed in text


def test_in_french_every_word_is_french_and_amounts_are_written_so(words: Words) -> None:
    text = words(render_quote(quote_data(paper(WHOLE), "fr"))).replace("\u00a0", " ")
    total = WHOLE.best.total
    assert f"{total // 100:,}".replace(",", " ") + f",{total % 100:02d} GBP" in text
    for needed in ("Devis", "À remplacer obligatoirement", "Peut attendre", "Hors taxes",
                   "sur demande", "Chaîne de charge", "25 décembre 2026"):  # fmt: skip
        assert needed in text
    assert SHOP.charges is not None
    own = text.replace(SHOP.charges.tax_note, "")  # what people typed stays as they typed it
    left = re.findall(r"\b(?:the|with|parts|price|until|hoist|renewed|agreed)\b", own, re.I)
    assert left == []


@pytest.mark.parametrize("size", ["a4", "us-letter"])
def test_both_papers_are_tagged_for_keeping_and_for_screen_readers(size: str) -> None:
    wide = {"a4": 595.3, "us-letter": 612.0}[size]  # points: ISO 216, ANSI Y14.1
    made = render_quote(quote_data(paper(WHOLE)), size)  # type: ignore[arg-type]
    with pikepdf.open(io.BytesIO(made)) as pdf:
        assert float(pdf.pages[0].mediabox[2]) == pytest.approx(wide, abs=0.5)
        assert pdf.Root.MarkInfo.Marked
        assert "pdfaid" in str(pdf.Root.Metadata.read_bytes())
    assert made == render_quote(quote_data(paper(WHOLE)), size)  # type: ignore[arg-type]


def test_an_examination_that_is_not_finished_is_told_on_the_paper(words: Words) -> None:
    """Unknown is not fit: what was not looked at may have to be renewed, too."""
    text = words(render_quote(quote_data(attrs.evolve(paper(WHOLE), unknown=12))))
    assert "The examination is not finished: 12 points are open." in text
    assert "not finished" not in words(render_quote(quote_data(paper(WHOLE))))


def test_the_wear_of_advised_parts_is_drawn_with_its_words(words: Words) -> None:
    svg = weighing_svg(100, 300, 300).replace("<svg ", '<svg font-family="sans-serif" ')
    shown = WearPicture(svg=svg, title="pawl, tip", words="Chance of being beyond: about 1 in 3.")
    made = render_quote(quote_data(attrs.evolve(paper(WHOLE), pictures=(shown,))))
    text = words(made)
    assert "Pawl, tip" in text
    assert "Chance of being beyond: about 1 in 3." in text
    with pikepdf.open(io.BytesIO(made)) as pdf:
        described = [
            str(node.Alt)
            for node in pdf.objects
            if isinstance(node, pikepdf.Dictionary) and "/Alt" in node
        ]
    assert any("about 1 in 3" in alt for alt in described)  # for those who cannot see it


def test_nothing_to_renew_still_makes_a_paper(words: Words) -> None:
    text = words(render_quote(quote_data(paper(offered(())))))
    assert "Nothing must be renewed." in text
    assert "Advised while" not in text


def test_a_very_long_name_and_reason_stay_on_the_paper(words: Words) -> None:
    sheet = paper(WHOLE).sheet
    long = attrs.evolve(sheet, customer=attrs.evolve(sheet.customer, name="Saltmarsh " * 18))
    text = words(render_quote(quote_data(attrs.evolve(paper(WHOLE), sheet=long))))
    assert text.count("Saltmarsh") == 18


def test_pictures_keep_the_proportions_of_the_sums() -> None:
    """Widths of the bars are read out of the picture again."""
    bars = re.findall(r"M([\d.]+) 6L([\d.]+) 6", repair_svg([100, 50, 50], 400, 0.6))
    widths = [float(b) - float(a) for a, b in bars]
    assert widths[0] == pytest.approx(2 * widths[1], rel=0.01)
    assert widths[1] == pytest.approx(widths[2], rel=0.01)
    both = re.findall(r"M2 (?:3|20)L([\d.]+) ", weighing_svg(100, 300, 300))
    assert (float(both[1]) - 2) == pytest.approx(3 * (float(both[0]) - 2), rel=0.01)
