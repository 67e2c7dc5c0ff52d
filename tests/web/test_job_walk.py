"""A whole job in a real browser: by touch and by a caliper that types, to ready to prove."""

from __future__ import annotations

import re

from bench_live import LiveBench
from browser import accessibility_faults, complaints, opened
from job_scene import all_answers, at_bench, booked_job, enter, feature_values, stage_of
from playwright.sync_api import Browser, Page, expect

AT_THE_OTHER_BENCH = (
    "load_gear",
    "layshaft_gear_left",
    "layshaft_bearing_inner",
    "layshaft_bearing_outer",
    "sheave_bearing_wheel_side",
    "sheave_bearing_gear_side",
    "side_plate_gear_side",
    "stay_bolt",
    "bottom_hook",
)
"""Parts that Tim examines meanwhile, so that the walk does not take longer than it tells."""


def _enter_figures(page: Page, values: dict[tuple[str, str, str], str]) -> None:
    """Type each figure into the field that has the focus, as a caliper does: figure, Enter."""
    fields = page.locator("form.caliper input[name=value][data-wanted]")
    for _ in range(fields.count()):
        field = page.locator("form.caliper input[name=value][data-wanted]:visible").first
        if not field.count():
            break
        field.focus()
        form = field.locator("xpath=ancestor::form")
        part, feature, place = (
            form.locator(f"[name={name}]").input_value() for name in ("part", "feature", "place")
        )
        row = field.locator("xpath=ancestor::div[contains(@class,'measure-row')]")
        ident = row.get_attribute("id")
        page.keyboard.type(values[part, feature, place])
        page.keyboard.press("Enter")
        expect(page.locator(f"#{ident} .kept")).to_be_visible()


def _touch_looks(page: Page) -> None:
    """Touch "in order" wherever a look has no answer."""
    while True:
        form = page.locator("form.answers:not(:has([aria-pressed=true]))").first
        if not form.count():
            return
        ident = form.locator("xpath=ancestor::div[@class='look']").get_attribute("id")
        form.locator("button[value='in order']").tap()
        look = page.locator(f"#{ident}")
        expect(look.locator("[aria-pressed=true]:not(.waits)")).to_have_count(1)
        expect(look.locator("details, .after").first).to_be_visible()


def _tick_all(page: Page) -> None:
    for at in range(page.locator("li.step").count()):
        step = page.locator("li.step").nth(at)
        if not step.locator("[aria-pressed=true]").count():
            step.locator(".tickbox").tap()
            expect(step).to_have_class(re.compile("ticked"))
        if step.locator(".hold").count():
            step.locator(".signing button").tap()
            expect(step.locator(".hold .done-line")).to_be_visible()


def _go_on(page: Page) -> None:
    with page.expect_navigation():
        page.locator("a.great").first.tap()


def _finish(page: Page) -> None:
    with page.expect_navigation(url=re.compile(r"/jobs/[^/]+$")):
        page.locator("form.finish button").tap()


def test_from_book_in_to_ready_to_prove(browser: Browser, shop: LiveBench) -> None:
    job = booked_job(shop, "WALK-1", strip_to=("friction_disc_outer", "friction_disc_inner"))
    values = feature_values(shop, job)
    theirs = [answer for answer in all_answers(shop, job) if answer.part in AT_THE_OTHER_BENCH]
    enter(shop, job, *theirs, by="tim")
    context = opened(browser, (800, 1280), touch=True)
    page = context.new_page()
    said = complaints(page)
    at_bench(page, shop, "cora")
    page.goto(f"{shop.address}/jobs/{job}/booking")
    page.locator(".choice", has_text="lifts and holds").click()
    page.fill("#found_words", "lowers with a jerk")
    page.locator("#visit").get_by_role("button", name="Keep").click()
    _finish(page)
    _go_on(page)
    _tick_all(page)
    _finish(page)
    _go_on(page)
    while page.locator("a.great").count():
        _go_on(page)
        _enter_figures(page, values)
        _touch_looks(page)
        page.goto(f"{shop.address}/jobs/{job}/examine")
    assert not accessibility_faults(page)
    _finish(page)
    _go_on(page)
    _finish(page)
    _go_on(page)
    _tick_all(page)
    _touch_looks(page)
    _finish(page)
    expect(page.locator("#now h2").first).to_have_text("Ready to prove")
    assert stage_of(shop, job) == "prove"
    assert not accessibility_faults(page)
    context.close()
    assert not said
