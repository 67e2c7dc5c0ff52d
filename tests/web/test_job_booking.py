"""The booking of a job put right: everything of it, and what is asked back meanwhile."""

from __future__ import annotations

import pytest
from bench_client import Visitor, visitor
from bench_live import LiveBench
from job_scene import at_bench, booked_job, enter
from playwright.sync_api import Page, expect

from hoistwright.job.events import BookedIn
from hoistwright.job.job_sheet import Customer, HoistIdentity


@pytest.fixture
def tim(shop: LiveBench) -> Visitor:
    shop.forget_attempts()
    return visitor(shop.bench, "tim")


def _booked(shop: LiveBench, job: str) -> BookedIn:
    found = shop.bench.store.state(job).booked
    assert found is not None
    return found


PLATE = {"maker": "Ardle", "model": "2000 OL", "serial": "Z-9", "value": "2000 kg",
         "manufactured": "2020"}  # fmt: skip
CUSTOMER = {"customer": "Quarry (invented)", "tag": "Q-7", "premises": "crusher",
            "address": "1 Pit Road", "paper_language": "fr"}  # fmt: skip
VISIT = {"found": "slips or creeps", "found_words": "half up", "complaint": "slips",
         "received_on": "2026-11-02", "last_examined_on": "2026-05-04",
         "service": "severe"}  # fmt: skip


def test_everything_of_a_booking_can_be_corrected(shop: LiveBench, tim: Visitor) -> None:
    job = booked_job(shop, "BOOK-1")
    first = shop.bench.store.state(job).seq
    for what, fields in (("plate", PLATE), ("customer", CUSTOMER), ("visit", VISIT)):
        answer = tim.post(f"/jobs/{job}/booking", {"do": what, **fields})
        assert answer.status_code == 303, answer.text
    now = _booked(shop, job)
    hoist, customer = now.hoist, now.customer
    assert (hoist.maker, hoist.model, hoist.serial) == ("Ardle", "2000 OL", "Z-9")
    assert (hoist.rated_load, hoist.manufactured, hoist.tag) == (2000.0, "2020", "Q-7")
    assert (customer.name, customer.address) == ("Quarry (invented)", "1 Pit Road")
    assert (customer.premises, customer.language) == ("crusher", "fr")
    assert now.found == "slips or creeps; half up"
    assert (now.complaint, now.service) == ("slips", "severe")
    assert f"{now.received_on} {now.last_examined_on}" == "2026-11-02 2026-05-04"
    assert now.design == "ardle-2000"
    state = shop.bench.store.state(job)
    assert state.seq == first + 3
    assert len(state.by_topic[now.topic].touches) == 4  # corrections; the first word is kept


def test_the_forms_show_what_stands(shop: LiveBench, tim: Visitor) -> None:
    job = booked_job(shop, "BOOK-2")
    tim.post(f"/jobs/{job}/booking", {"do": "visit", **VISIT})
    page = tim.get(f"/jobs/{job}/booking").text
    checked = [part for part in page.split("<input") if "checked" in part.split(">")[0]]
    assert any('value="slips or creeps"' in part for part in checked)
    assert ">\nhalf up</textarea>" in page
    assert '<option value="severe" selected>' in page


@pytest.mark.parametrize(
    ("what", "fields", "words"),
    [
        ("plate", {**PLATE, "value": "two tons"}, "two tons"),
        ("plate", {**PLATE, "serial": ""}, "serial number is needed"),
        ("customer", {**CUSTOMER, "customer": ""}, "Whose hoist is it?"),
        ("visit", {**VISIT, "found": "", "found_words": ""}, "how the hoist was found"),
        ("visit", {**VISIT, "received_on": "2031-01-01"}, "still to come"),
        ("visit", {**VISIT, "last_examined_on": "2026-11-03"}, "Later than it was received"),
    ],
)
def test_what_cannot_be_is_asked_back_and_what_was_typed_stays(
    shop: LiveBench, tim: Visitor, what: str, fields: dict[str, str], words: str
) -> None:
    job = booked_job(shop, "BOOK-3") if not shop.bench.store.job("BOOK-3") else "BOOK-3"
    before = _booked(shop, job)
    answer = tim.post(f"/jobs/{job}/booking", {"do": what, **fields})
    assert answer.status_code == 422
    assert words in answer.text
    kept = {"plate": "2000 OL", "customer": "1 Pit Road", "visit": "2026-05-04"}[what]
    assert kept in answer.text or words == "Later than it was received"
    assert _booked(shop, job) == before


def test_a_wrong_load_is_mended_on_the_page_of_the_booking(shop: LiveBench, page: Page) -> None:
    job = "BOOK-4"
    enter(shop, job, BookedIn(
        hoist=HoistIdentity(maker="Ardle", model="2000", serial="B-4", rated_load=2.0),
        customer=Customer(name="Boatyard (invented)"), design="ardle-2000",
        bases=("workshop-practice",), found="lifts and holds"))  # fmt: skip
    at_bench(page, shop, "cora")
    page.goto(f"{shop.address}/jobs/{job}/booking")
    finding = page.locator(".finding")
    expect(finding).to_contain_text("the design Ardle 2000 is rated for 2000 kg")
    finding.get_by_role("link", name="Put the data plate right").click()
    page.fill("#value", "20")
    page.locator("#plate").get_by_role("button", name="Keep").click()
    asked = page.locator("#plate .asked")
    expect(asked).to_contain_text("20 kg? The design Ardle 2000 is rated for 2 t.")
    asked.get_by_role("button", name="2 t", exact=True).click()
    expect(finding).to_have_count(0)
    assert _booked(shop, job).hoist.rated_load == 2000.0


def test_a_load_kept_as_it_is_shown_is_not_rounded(shop: LiveBench, tim: Visitor) -> None:
    """Two short tons, 1814.36948 kg (NIST SP 811, appendix B), are shown with fewer figures."""
    job = "BOOK-5"
    enter(shop, job, BookedIn(
        hoist=HoistIdentity(serial="B-5", rated_load=1814.36948),
        customer=Customer(name="Boatyard (invented)")))  # fmt: skip
    page = tim.get(f"/jobs/{job}/booking").text
    shown = page.partition('id="value"')[2].partition('value="')[2].partition('"')[0]
    tim.post(f"/jobs/{job}/booking", {"do": "plate", "value": shown, "maker": "Ardle"})
    now = _booked(shop, job).hoist
    assert (now.maker, now.rated_load) == ("Ardle", 1814.36948)
