"""Every page in a real browser: accessible, inside the screen, no broken policy, two languages."""

from __future__ import annotations

import pytest
from bench_live import LiveBench
from browser import (
    DESK,
    TABLET,
    TELEPHONE,
    accessibility_faults,
    complaints,
    opened,
    scrolls_sideways,
    sign_in,
)
from playwright.sync_api import Browser, Page, expect

from hoistwright.web.pages import all_pages

PATHS = (
    "/",
    "/?who=odile",
    "/me",
    "/change-person",
    "/help",
    "/book-in",
    "/book-in?code=A2-11873",
    "/book-in?hoist=ardle%2Fa211873",
    "/hoists",
    "/hoists?q=ardle",
    "/hoists?q=nothing-like-it",
    "/hoists/ardle~2Fa211873",
    "/gauges",
    "/gauges/new",
    "/gauges/of/cal-1",
    "/weights/new",
    "/weights/of/w500",
    "/prices",
    "/prices?q=pawl",
    "/prices/charges",
    "/designs",
    "/designs/ardle-2000",
    "/designs/unknown-maker-1t~2Etoml",
    "/bases",
    "/bases/b30-hand-hoists",
    "/bases/uk-loler",
    "/people",
    "/people/new",
    "/people/of/odile",
    "/no-such-page",
)
OWN_PAGES = ("sign_in", "first", "me", "in_shop", "book_in", "hoists", "gauges", "prices",
             "charges", "designs", "bases", "people", "about")  # fmt: skip

SEEN_ELSEWHERE = {
    "my-secrets": "shows the same page as /me",
    "booked": "the page after booking in, in test_booking_in.py",
}


@pytest.mark.parametrize("size", [DESK, TABLET, TELEPHONE], ids=["desk", "tablet", "telephone"])
def test_pages_are_accessible_and_fit(
    shop: LiveBench, browser: Browser, size: tuple[int, int]
) -> None:
    """axe finds nothing, nothing sticks out sideways, the console has no complaint."""
    shop.forget_attempts()
    context = opened(browser, size)
    page = context.new_page()
    sign_in(page, shop.address, "ada")
    page.goto(shop.address + "/people/of/ada")  # whoever sees all pages has all roles
    for role in ("technician", "competent person"):
        page.locator(f"input[value='{role}']").check(force=True)
    page.get_by_role("button", name="Keep").click()
    said = complaints(page)
    faults: list[str] = []
    for path in PATHS:
        page.goto(shop.address + path)
        faults += [f"{path}: {fault}" for fault in accessibility_faults(page)]
        faults += [f"{path}: wider than the screen"] if scrolls_sideways(page) else []
    context.close()
    assert faults == []
    assert [text for text in said if "404" not in text] == []


def test_targets_are_large_enough_for_a_glove(shop: LiveBench, browser: Browser) -> None:
    """56 px high at least: whatever is tapped on the pages of the bench, links in text apart."""
    context = opened(browser, TABLET)
    page = context.new_page()
    shop.forget_attempts()
    sign_in(page, shop.address, "cora")
    low = []
    for path in ("/", "/book-in", "/hoists", "/gauges/new", "/me", "/bases/uk-loler"):
        page.goto(shop.address + path)
        low += page.evaluate(
            """() => [...document.querySelectorAll(
                 'button, .button, input:not([type=hidden]), select, textarea, .choice, ' +
                 '.card > a, .top a, summary')]
               .filter(e => e.offsetParent && e.getBoundingClientRect().height < 55.5)
               .map(e => location.pathname + ' ' + e.outerHTML.slice(0, 90))"""
        )
    context.close()
    assert low == []


def test_every_page_has_its_place_in_this_test() -> None:
    """A new page of these modules must be added above (or answers only POST)."""
    import importlib

    for name in OWN_PAGES:
        for page in importlib.import_module(f"hoistwright.web.pages.{name}").PAGES:
            parts = page.path.split("{")[0].rstrip("/")
            known = any(path.startswith(parts) for path in PATHS)
            assert known or page.open or page.show is None or page.name in SEEN_ELSEWHERE
    names = [page.name for page in all_pages()]
    assert len(names) == len(set(names))


def test_french_is_kept_per_person(shop: LiveBench, page: Page) -> None:
    shop.forget_attempts()
    page.goto(shop.address + "/sign-in")
    page.get_by_role("link", name="Français").click()
    expect(page.locator("h1")).to_have_text("Connexion")
    sign_in(page, shop.address, "kim")  # whose own language is English until chosen
    page.goto(shop.address + "/me")
    page.get_by_text("Français", exact=True).click()
    page.get_by_text("inch and pound").click()
    page.get_by_role("button", name="Keep").first.click()
    expect(page.locator("html")).to_have_attribute("lang", "fr")
    page.goto(shop.address + "/designs/ardle-500")
    expect(page.locator("h1 + p")).to_have_text("palan à chaîne manuel")
    expect(page.locator(".facts")).to_contain_text("1102,3 lb")  # 500 kg / 0.45359237
    page.goto(shop.address + "/me")
    page.get_by_text("English", exact=True).click()
    page.get_by_text("métrique").click()
    page.get_by_role("button", name="Enregistrer").first.click()


def test_the_demo_says_so_on_every_page(shop: LiveBench, at_desk: Page) -> None:
    for path in ("/", "/book-in", "/help", "/no-such-page"):
        at_desk.goto(shop.address + path)
        expect(at_desk.locator(".demo")).to_contain_text("Demo shop")


def test_pages_work_without_script(shop: LiveBench, browser: Browser) -> None:
    shop.forget_attempts()
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    sign_in(page, shop.address, "tim")
    page.goto(shop.address + "/book-in")
    page.fill("#rated_load", "2 t")
    page.fill("#wire", "7.8")
    page.get_by_role("button", name="Find the design").click()
    expect(page.locator(".designs")).to_contain_text("Ardle 2000")
    assert page.input_value("#wire") == "7.8"
    context.close()
