"""Two tablets on one job, and one that loses its connection."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from bench_live import LiveBench
from browser import TABLET, accessibility_faults, complaints, opened
from job_scene import at_bench, booked_job, enter
from playwright.sync_api import Browser, BrowserContext, Page, expect

from hoistwright.job.events import LookAnswered, ReadingEntered

GENEROUS = 15_000
"""Milliseconds: how soon is measured elsewhere; here only whether it comes by itself."""


@pytest.fixture
def two(browser: Browser, shop: LiveBench) -> Iterator[tuple[Page, Page]]:
    """Cora and Tim, each at a tablet."""
    contexts = [opened(browser, TABLET, touch=True) for _ in range(2)]
    pages = [context.new_page() for context in contexts]
    said = [complaints(page) for page in pages]
    for page, who in zip(pages, ("cora", "tim"), strict=True):
        at_bench(page, shop, who)
    yield pages[0], pages[1]
    for context in contexts:
        context.close()
    assert not [text for texts in said for text in texts]


def _field(page: Page, feature: str, place: str = "") -> str:
    form = page.locator(f"form.caliper:has([name=feature][value='{feature}'])")
    form = form.filter(has=page.locator(f"[name=place][value='{place}']"))
    return f"#{form.locator('[name=value]').first.get_attribute('id')}"


def _type(page: Page, feature: str, figure: str, place: str = "") -> None:
    field = _field(page, feature, place)
    page.fill(field, figure)
    page.press(field, "Enter")


def test_an_entry_is_seen_at_the_other_tablet(two: tuple[Page, Page], shop: LiveBench) -> None:
    job = booked_job(shop, "TWO-1")
    here, there = two
    for page in two:
        page.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    _type(here, "hook.throat", "50.5")
    expect(there.get_by_text("50.5 mm", exact=True)).to_be_visible(timeout=GENEROUS)
    there.goto(f"{shop.address}/jobs/{job}")
    line = there.locator("#parts a", has_text="top hook")
    expect(line).to_contain_text("1/11")
    drawn = there.locator("#drawing [data-part=top_hook]")
    expect(drawn).to_have_attribute("data-state", "not established")
    here.locator("button[value=defect]").first.tap()
    expect(drawn).to_have_attribute("data-state", "renew", timeout=GENEROUS)
    expect(drawn).to_have_attribute("aria-label", re.compile("renew"))


def test_what_is_being_typed_stays_when_others_enter(
    two: tuple[Page, Page], shop: LiveBench
) -> None:
    job = booked_job(shop, "TWO-2")
    here, there = two
    for page in two:
        page.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    there.fill(_field(there, "hook.twist"), "0.")
    _type(here, "hook.throat", "50.5")
    expect(there.get_by_text("50.5 mm", exact=True)).to_be_visible(timeout=GENEROUS)
    expect(there.locator(_field(there, "hook.twist"))).to_have_value("0.")
    expect(there.locator(_field(there, "hook.twist"))).to_be_focused()


def test_two_answers_to_one_look_are_settled(two: tuple[Page, Page], shop: LiveBench) -> None:
    job = booked_job(shop, "TWO-3")
    here, _ = two
    look = {"part": "top_hook", "feature": "hook.cracks"}
    seen = shop.bench.store.state(job).seq
    enter(shop, job, LookAnswered(**look, answer="in order"), by="tim", seen=seen)
    enter(shop, job, LookAnswered(**look, answer="defect"), by="cora", seen=seen)
    here.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    notice = here.locator(".conflict")
    expect(notice).to_contain_text("in order by Tim Tech")
    assert not accessibility_faults(here)
    notice.get_by_role("button").nth(1).tap()
    expect(notice).to_have_count(0)
    state = shop.bench.store.state(job)
    assert not state.conflicts
    assert state.looks["top_hook", "hook.cracks", ""].body == LookAnswered(**look, answer="defect")


# without connection


def _kept_ready(page: Page, path: str = "") -> None:
    """A page is at hand without connection once the worker has it."""
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    kept = (
        "(path) => caches.match(path || location.href.split('#')[0],"
        " {cacheName: 'hoistwright-pages'}).then((found) => !!found)"
    )
    while not page.evaluate(kept, path):  # wait_for_function does not wait for a promise
        page.wait_for_timeout(100)


@pytest.fixture
def alone(browser: Browser, shop: LiveBench) -> Iterator[tuple[BrowserContext, Page]]:
    context = opened(browser, TABLET, touch=True)
    page = context.new_page()
    at_bench(page, shop, "cora")
    yield context, page
    context.close()


def test_entries_wait_for_the_connection_through_a_reload(
    alone: tuple[BrowserContext, Page], shop: LiveBench
) -> None:
    job = booked_job(shop, "AWAY-1")
    context, page = alone
    page.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    _kept_ready(page)
    context.set_offline(True)
    _type(page, "hook.throat", "50.5")
    _type(page, "hook.twist", "0.5")
    page.locator("button[value='in order']").first.tap()
    expect(page.locator("#waiting")).to_contain_text("3 entries wait")
    before = shop.bench.store.state(job).seq
    page.reload()
    expect(page.locator("#waiting")).to_contain_text("3 entries wait")
    expect(page.locator("button[value='in order']").first).to_have_attribute("aria-pressed", "true")
    page.close()
    page = context.new_page()
    page.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    expect(page.locator("#waiting")).to_contain_text("3 entries wait")
    assert not accessibility_faults(page)
    assert shop.bench.store.state(job).seq == before
    context.set_offline(False)
    expect(page.get_by_text("50.5 mm", exact=True)).to_be_visible(timeout=GENEROUS)
    expect(page.locator("#waiting")).to_be_hidden(timeout=GENEROUS)
    state = shop.bench.store.state(job)
    assert state.seq == before + 3
    assert {event.by for event in shop.bench.store.events(job, after=before)} == {"cora"}


def test_parts_never_opened_are_at_hand_without_connection(
    alone: tuple[BrowserContext, Page], shop: LiveBench
) -> None:
    job = booked_job(shop, "AWAY-5")
    context, page = alone
    page.goto(f"{shop.address}/jobs/{job}")
    _kept_ready(page, f"/jobs/{job}/parts/pawl")
    _kept_ready(page, str(page.locator("#drawing").get_attribute("data-tall")))
    context.set_offline(True)
    page.reload()
    expect(page.locator("#drawing svg")).to_be_visible()
    page.locator("#parts a", has_text="pawl ×2").tap()
    page.wait_for_url("**/parts/pawl")
    page.locator("button[value='in order']").first.tap()
    expect(page.locator("#waiting")).to_contain_text("1 entry waits")
    context.set_offline(False)
    expect(page.locator("#parthead")).to_contain_text("1 of 6", timeout=GENEROUS)


def test_an_answer_lost_on_its_way_enters_nothing_twice(
    alone: tuple[BrowserContext, Page], shop: LiveBench
) -> None:
    """The server takes the entry, the tablet never hears of it: it sends it again."""
    job = booked_job(shop, "AWAY-2")
    _, page = alone
    page.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    lost: list[object] = []

    def lose(route, request):  # type: ignore[no-untyped-def]
        if request.method == "POST" and not lost:
            lost.append(route.fetch())
            route.abort()
        else:
            route.continue_()

    page.route("**/parts/top_hook", lose)
    before = shop.bench.store.state(job).seq
    _type(page, "hook.throat", "50.5")
    expect(page.get_by_text("50.5 mm", exact=True)).to_be_visible(timeout=GENEROUS)
    expect(page.locator("#waiting")).to_be_hidden(timeout=GENEROUS)
    assert lost
    assert shop.bench.store.state(job).seq == before + 1


def test_a_wrong_unit_is_asked_back_without_connection(
    alone: tuple[BrowserContext, Page], shop: LiveBench
) -> None:
    job = booked_job(shop, "AWAY-3")
    context, page = alone
    page.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    _kept_ready(page)
    context.set_offline(True)
    page.reload()
    _type(page, "hook.throat", "50.5 in")
    expect(page.locator(".asked:not(:empty)")).to_contain_text("50.5 in")
    assert not page.locator("#waiting").get_by_text("wait on this tablet").count()


def test_what_one_person_typed_is_not_sent_as_another(
    alone: tuple[BrowserContext, Page], shop: LiveBench
) -> None:
    job = booked_job(shop, "AWAY-4")
    _, page = alone
    page.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    page.route("**/parts/top_hook", lambda route, request: (
        route.abort() if request.method == "POST" else route.continue_()))  # fmt: skip
    _type(page, "hook.throat", "50.5")
    expect(page.locator("#waiting")).to_contain_text("1 entry waits")
    page.unroute_all()
    page.goto(f"{shop.address}/change-person?next=/jobs/{job}")
    page.locator("label", has_text="Tim Tech").tap()
    page.fill("#pin", "4711")
    page.get_by_role("button", name="Take over").tap()
    expect(page.locator("#waiting")).to_contain_text("Cora Competent")
    assert not shop.bench.store.state(job).readings
    page.goto(f"{shop.address}/change-person?next=/jobs/{job}")
    page.locator("label", has_text="Cora Competent").tap()
    page.fill("#pin", "4711")
    page.get_by_role("button", name="Take over").tap()
    expect(page.locator("#parts a", has_text="top hook")).to_contain_text("1/11", timeout=GENEROUS)
    expect(page.locator("#waiting")).to_be_hidden(timeout=GENEROUS)
    standing = shop.bench.store.state(job).readings["top_hook", "hook.throat", ""]
    assert isinstance(standing.body, ReadingEntered)
    assert standing.event.by == "cora"
