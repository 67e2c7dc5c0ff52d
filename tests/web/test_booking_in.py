"""Booking in by touch and by keyboard alone; searching; a hoist that comes back."""

from __future__ import annotations

import re

from bench_live import LiveBench
from browser import TABLET, opened, sign_in
from playwright.sync_api import Browser, Page, expect


def _job(page: Page) -> str:
    found = re.search(r"\d\d-\d{4}", page.locator(".said").inner_text())
    assert found is not None
    return found[0]


def test_by_touch_on_a_tablet(shop: LiveBench, browser: Browser) -> None:
    shop.forget_attempts()
    context = opened(browser, TABLET, touch=True)
    page = context.new_page()
    sign_in(page, shop.address, "tim")
    page.get_by_role("link", name="Book a hoist in").tap()
    page.fill("#maker", "Ardle")
    page.fill("#rated_load", "2 t")
    page.fill("#wire", "7.9")
    page.fill("#serial", "T-1001")
    suggestion = page.locator(".design", has_text="Ardle 2000").first
    expect(suggestion).to_contain_text("✓ rated load")  # script fetched it while typing
    suggestion.tap()
    page.fill("#customer", "Saltmarsh Boatyard")
    page.locator(".choice", has_text="slips or creeps").tap()
    page.locator(".great").tap()
    job = _job(page)
    state = shop.bench.store.state(job)
    assert state.booked is not None
    assert state.design == "ardle-2000"
    assert state.booked.hoist.rated_load == 2000
    assert state.booked.found == "slips or creeps"
    assert "book in" in state.finished
    context.close()


def test_by_keyboard_alone(shop: LiveBench, at_desk: Page) -> None:
    """A caliper that types: figure, Enter, next field; nothing is sent by accident."""
    page = at_desk
    page.goto(shop.address + "/book-in")

    def to(field: str) -> None:
        for _ in range(60):
            if page.evaluate("document.activeElement.id || document.activeElement.value") == field:
                return
            page.keyboard.press("Tab")
        raise AssertionError(f"{field} cannot be reached by keyboard")

    to("serial")
    page.keyboard.type("K-2002")
    to("wire")
    page.keyboard.type("6.3")
    page.keyboard.press("Enter")
    page.keyboard.type("19")
    assert page.input_value("#pitch") == "19"
    expect(page.locator(".designs")).to_contain_text("chain 6.3 mm")
    page.locator("input[value=begin]").focus()
    page.keyboard.press("Space")
    to("customer")
    page.keyboard.type("Greywether Quarry")
    page.locator(".great").focus()
    page.keyboard.press("Enter")
    page.wait_for_selector(".said")
    state = shop.bench.store.state(_job(page))
    assert state.design.endswith(".toml")
    from hoistwright.web.designs import design_named

    begun = design_named(shop.bench, state.design)
    assert begun is not None
    assert begun.load_chain.wire == 0.0063
    assert begun.load_chain.grade is None  # nothing is invented
    assert begun.maker_limits == ()


def test_what_was_typed_stays_and_the_fault_is_named(shop: LiveBench, at_desk: Page) -> None:
    page = at_desk
    page.goto(shop.address + "/book-in")
    page.fill("#rated_load", "two tons")
    page.fill("#complaint", "squeals")
    page.locator(".great").click()
    wrongs = page.locator(".wrongs")
    expect(wrongs).to_contain_text("two tons")
    expect(wrongs).to_contain_text("Whose hoist is it?")
    expect(wrongs).to_contain_text("serial number is needed")
    assert page.input_value("#rated_load") == "two tons"
    assert page.input_value("#complaint") == "squeals"
    assert page.get_attribute("#rated_load", "aria-invalid") == "true"


def test_a_known_hoist_is_found_by_its_tag(shop: LiveBench, at_desk: Page) -> None:
    page = at_desk
    page.goto(shop.address + "/book-in")
    page.keyboard.type("BY-07\n")  # a scanner types and ends with Enter; the field has the focus
    page.get_by_role("link", name="Ardle 2000").click()
    assert page.input_value("#serial") == "A2-11873"
    assert page.is_checked("input[name=design][value='ardle-2000']")


def test_search_by_serial_customer_and_tag(shop: LiveBench, at_desk: Page) -> None:
    page = at_desk
    for text, serial in (("a2-11873", "A2-11873"), ("saltmarsh 5561", "AL-5561"),
                         ("wtg", "AL3-0042")):  # fmt: skip
        page.goto(shop.address + "/hoists")
        page.fill("#q", text)
        page.keyboard.press("Enter")
        expect(page.locator("tbody")).to_contain_text(serial)


def test_a_hoist_shows_its_visits_and_readings(shop: LiveBench, at_desk: Page) -> None:
    at_desk.goto(shop.address + "/hoists/ardle~2Fa211873")
    expect(at_desk.locator("main")).to_contain_text("KQ-0401")
    row = at_desk.locator("tr", has_text="bottom hook").filter(has_text="throat").first
    kept = shop.bench.store.earlier_readings("ardle/a211873")
    mean = next(r.mean for r in kept if (r.part, r.feature) == ("bottom_hook", "hook.throat"))
    expect(row).to_contain_text(f"{mean * 1000:.2f}".rstrip("0").rstrip("."))


def test_adopting_needs_a_competent_person_who_says_what_was_compared(
    shop: LiveBench, at_desk: Page
) -> None:
    page = at_desk
    page.goto(shop.address + "/bases/europe-round-link")
    expect(page.locator("main")).to_contain_text("not adopted")
    page.get_by_role("button", name="Adopt").click()
    expect(page.locator(".wrongs")).to_contain_text("Name the copies")
    page.fill("#compared_with", "own copies, editions of 2001 and 2012")
    page.get_by_text("I have compared every figure myself").click()
    page.get_by_role("button", name="Adopt").click()
    expect(page.locator("main")).to_contain_text("adopted by Cora Competent on")
    from hoistwright.store.connect import reading
    from hoistwright.web.records.shop_records import shop_of

    with reading(shop.bench.engine) as conn:
        found = [a for a in shop_of(conn).adoptions if a.basis == "europe-round-link"]
    assert [a.by for a in found] == ["cora"]


def test_a_gauge_is_added_and_its_faults_are_named(shop: LiveBench, at_desk: Page) -> None:
    page = at_desk
    page.goto(shop.address + "/gauges/new")
    page.fill("#name", "caliper 9")
    page.fill("#kind", "digital caliper")
    page.fill("#resolution", "0.01 kg")
    page.fill("#uncertainty", "0.03 mm")
    page.get_by_role("button", name="Keep").click()
    expect(page.locator(".wrongs")).to_contain_text("kg")
    page.fill("#resolution", "0.0005 in")
    page.fill("#due_on", "2027-05-01")
    page.get_by_role("button", name="Keep").click()
    expect(page.locator("main")).to_contain_text("caliper 9")
    expect(page.locator("tr", has_text="caliper 9")).to_contain_text("in date until 1 May 2027")
