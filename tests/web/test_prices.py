"""The price list at the bench: searched, looked through before it is taken over, kept."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from bench_client import Visitor, visitor
from bench_live import LiveBench, live, made_bench
from browser import TABLET, accessibility_faults, opened, sign_in
from playwright.sync_api import Browser, FilePayload, expect

from hoistwright.demo.shop_files import demo_folder
from hoistwright.store.connect import reading
from hoistwright.web.records.prices import KeptList, prices_kept
from hoistwright.web.records.shop_records import shop_of

LIST = (demo_folder() / "prices.csv").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def priced(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LiveBench]:
    """A bench of its own: other tests quote by the list that is in use."""
    with live(made_bench(tmp_path_factory.mktemp("priced"), jobs=False)) as running:
        yield running


@pytest.fixture
def cora(priced: LiveBench) -> Visitor:
    priced.forget_attempts()
    return visitor(priced.bench, "cora")


def kept(shop: LiveBench) -> KeptList:
    with reading(shop.bench.engine) as conn:
        return prices_kept(conn)


def sent(visit: Visitor, text: str, name: str = "list.csv") -> str:
    answer = visit.client.post(
        "/prices", data={"_token": visit.token()}, files={"list": (name, text.encode())}
    )
    return str(answer.text)


def test_the_list_of_the_shop_file_is_there_from_the_start(
    priced: LiveBench, cora: Visitor
) -> None:
    assert len(kept(priced).book.lines) > 400
    text = cora.get("/prices").text
    assert "prices.csv" in text
    assert "with the shop file" in text


def test_search_finds_by_number_name_design_and_part(cora: Visitor) -> None:
    for asked in ("A500-4613", "top+hook+latch+ardle-500", "ardle-500+top+hook+latch"):
        text = cora.get(f"/prices?q={asked}").text
        assert "A500-4613" in text
        assert "A10000-" not in text
    assert "No line holds that." in cora.get("/prices?q=flux+capacitor").text


def test_what_changes_is_seen_before_it_is_taken_over(priced: LiveBench, browser: Browser) -> None:
    before = kept(priced)
    context = opened(browser, TABLET)
    page = context.new_page()
    priced.forget_attempts()
    sign_in(page, priced.address, "cora")
    page.goto(f"{priced.address}/prices")
    dearer = LIST.replace(",GBP 16.85,", ",GBP 17.45,") + "Z-1,new clip,GBP 1.10,5,2,,\n"
    page.set_input_files(
        "#list", FilePayload(name="winter.csv", mimeType="text/csv", buffer=dearer.encode())
    )
    page.get_by_role("button", name="See what changes").click()
    rows = page.locator(".changes tbody tr")
    expect(rows.filter(has_text="friction disc")).to_have_count(2)
    expect(rows.filter(has_text="friction disc").first).to_contain_text("GBP 17.45")
    expect(rows.filter(has_text="Z-1")).to_contain_text("new")
    assert accessibility_faults(page) == []
    assert kept(priced).number == before.number  # nothing is taken over yet
    page.get_by_role("button", name="Take it over").click()
    expect(page.locator(".lead")).to_contain_text("winter.csv")
    context.close()
    after = kept(priced)
    assert (after.name, after.by) == ("winter.csv", "cora")
    assert after.book.of_design("ardle-2000").price("friction_disc_inner", 1) == 1745


def test_every_fault_of_a_list_is_shown_and_nothing_taken_over(
    priced: LiveBench, cora: Visitor
) -> None:
    before = kept(priced).number
    text = sent(cora, "part number,price,fits\nA,twelve,x\nA,GBP 1,ardle-2000:paul\n", "bad.csv")
    for told in ("bad.csv, line 2, column 2 (price)", "line 3, column 1 (number)", "ardle-2000"):
        assert told in text
    assert "Nothing of this list was taken over" in text
    assert "EUR" in sent(cora, "number,price\nA,EUR 1\n")  # the shop reckons in pounds
    assert "Choose a file" in sent(cora, "", "")
    assert kept(priced).number == before


def test_only_the_list_that_was_looked_at_is_taken_over(priced: LiveBench, cora: Visitor) -> None:
    before = kept(priced).number
    assert cora.post("/prices/take", {"digest": "0" * 64}).status_code == 409
    assert cora.post("/prices/take", {"digest": ""}).status_code == 409
    assert kept(priced).number == before


def test_a_technician_sees_prices_and_changes_none(priced: LiveBench) -> None:
    priced.forget_attempts()
    tim = visitor(priced.bench, "tim")
    assert "See what changes" not in tim.get("/prices").text
    refused = tim.client.post(
        "/prices", data={"_token": tim.token()}, files={"list": ("l.csv", b"x")}
    )
    assert refused.status_code == 403
    assert tim.get("/prices/charges").status_code == 403


def test_charges_are_changed_and_faults_are_shown_beside_their_field(
    priced: LiveBench, cora: Visitor
) -> None:
    form = {
        "currency": "gbp", "labour_per_hour": "51,50", "call_back": "GBP 300", "scrap_value": "0",
        "scrap_from": "55", "valid_days": "20", "tax_note": "No tax.", "new-ardle-500": "1.500",
    }  # fmt: skip
    wrong = cora.post("/prices/charges", form)
    assert wrong.status_code == 422
    assert "one way only" in wrong.text
    assert 'value="51,50"' in wrong.text  # what was typed is kept
    assert cora.post("/prices/charges", {**form, "new-ardle-500": "1500"}).status_code == 303
    with reading(priced.bench.engine) as conn:
        charges = shop_of(conn).charges
    assert charges is not None
    assert charges.policy().labour_per_hour == 5150
    assert charges.policy().call_back == 30_000
    assert charges.policy().scrap_from == pytest.approx(0.55)
    assert charges.new_price("ardle-500") == 150_000


def test_a_shop_file_whose_list_is_missing_is_refused(tmp_path: Path) -> None:
    from hoistwright.faults import FaultsError
    from hoistwright.web.serving import start_bench

    shop = tmp_path / "shop.toml"
    shop.write_text((demo_folder() / "shop.toml").read_text(encoding="utf-8"), encoding="utf-8")
    with pytest.raises(FaultsError, match=r"prices\.csv"):
        start_bench(tmp_path / "x.db", shop=shop)
