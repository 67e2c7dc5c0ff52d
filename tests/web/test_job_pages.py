"""Each page of a job, at each size and in each state: accessible, inside the screen, for gloves."""

from __future__ import annotations

import io
import json

import pytest
from bench_client import visitor
from bench_live import LiveBench
from browser import (
    DESK,
    TABLET,
    TELEPHONE,
    accessibility_faults,
    complaints,
    opened,
    scrolls_sideways,
)
from job_scene import all_answers, at_bench, booked_job, enter
from PIL import Image
from playwright.sync_api import Browser, FilePayload, Page, expect

from hoistwright.demo.shop_files import demo_sheets
from hoistwright.job.events import PhotoAttached, Remarked

PAGES = (
    "",
    "/booking",
    "/strip",
    "/examine",
    "/parts/load_chain",
    "/parts/pawl",
    "/parts/gear_case_nut",
    "/renew",
    "/rebuild",
    "/release",
    "/history",
    "/papers",
)
JUST_IN = "KQ-0412"
JOBS = {DESK: ("KQ-0403",), TABLET: ("KQ-0401", JUST_IN), TELEPHONE: ("KQ-0406",)}
"""Renew, with an overstrained chain; ready to prove; just in; in the middle of examining."""


@pytest.mark.parametrize("size", [DESK, TABLET, TELEPHONE], ids=["desk", "tablet", "telephone"])
def test_pages_are_accessible_and_fit(
    shop: LiveBench, browser: Browser, size: tuple[int, int]
) -> None:
    context = opened(browser, size)
    page = context.new_page()
    at_bench(page, shop, "cora")
    said = complaints(page)
    faults: list[str] = []
    for job in JOBS[size]:
        for path in PAGES if job != JUST_IN else PAGES[:3]:
            page.goto(f"{shop.address}/jobs/{job}{path}")
            if path == "":
                expect(page.locator("#drawing svg")).to_be_visible()
            faults += [f"{job}{path}: {fault}" for fault in accessibility_faults(page)]
            faults += [f"{job}{path}: wider than the screen"] if scrolls_sideways(page) else []
    context.close()
    assert faults == []
    assert said == []


def test_targets_are_large_enough_for_a_glove(shop: LiveBench, browser: Browser) -> None:
    """56 px high at least, as on the other pages of the bench."""
    context = opened(browser, TABLET)
    page = context.new_page()
    at_bench(page, shop, "cora")
    low: list[str] = []
    for path in PAGES:
        page.goto(f"{shop.address}/jobs/KQ-0406{path}")
        low += page.evaluate(
            """() => [...document.querySelectorAll(
                 'button, .button, input:not([type=hidden]), select, .choice, summary, ' +
                 '.partlines a, .missing a, .stagebar a, .units a')]
               .filter(e => e.offsetParent && e.getBoundingClientRect().height < 55.5)
               .map(e => location.pathname + ' ' + e.outerHTML.slice(0, 90))"""
        )
    context.close()
    assert low == []


def test_the_drawing_is_the_menu(at_desk: Page, shop: LiveBench) -> None:
    """Tapping beside a small part still opens it; its state is said in words and by its sign."""
    at_desk.goto(f"{shop.address}/jobs/KQ-0403")
    hook = at_desk.locator("#drawing [data-part=bottom_hook]")
    expect(hook).to_have_attribute("aria-label", "bottom hook, renew")
    balloon = at_desk.locator("#drawing [data-balloon=bottom_hook]")
    assert balloon.locator(".sign").get_attribute("d")
    balloon.scroll_into_view_if_needed()
    box = balloon.bounding_box()
    assert box is not None
    at_desk.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    at_desk.wait_for_url("**/parts/bottom_hook")


def test_what_is_missing_leads_to_where_it_is_done(at_desk: Page, shop: LiveBench) -> None:
    at_desk.goto(f"{shop.address}/jobs/KQ-0403")
    at_desk.locator(".missing a").first.click()
    at_desk.wait_for_url("**/renew#part-load_chain")
    expect(at_desk.locator("#part-load_chain")).to_be_in_viewport()


def test_a_photo_from_the_camera_is_kept_without_its_place(at_desk: Page, shop: LiveBench) -> None:
    job = booked_job(shop, "PHOTO-1")
    picture = Image.new("RGB", (64, 48), "white")
    exif = picture.getexif()
    exif[0x8825] = {1: "N"}  # GPS, as EXIF 2.32 has it
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif)
    at_desk.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    photo = FilePayload(name="x.jpg", mimeType="image/jpeg", buffer=out.getvalue())
    at_desk.locator("#partrest input[type=file]").set_input_files(photo)
    expect(at_desk.locator("#partrest .photos img")).to_be_visible()
    body = shop.bench.store.state(job).photos[0].body
    assert isinstance(body, PhotoAttached)
    assert body.part == "top_hook"
    kept = shop.bench.store.attachment(body.content)
    assert kept is not None
    assert not Image.open(io.BytesIO(kept[1])).getexif()


def test_a_photo_belongs_to_its_job_alone(shop: LiveBench) -> None:
    job = booked_job(shop, "PHOTO-2")
    out = io.BytesIO()
    Image.new("RGB", (8, 8)).save(out, "PNG")
    kept = shop.bench.store.attach(out.getvalue())
    shop.forget_attempts()
    cora = visitor(shop.bench, "cora")
    assert cora.get(f"/jobs/{job}/photos/{kept.content}").status_code == 404
    enter(shop, job, PhotoAttached(content=kept.content, media_type=kept.media_type))
    assert cora.get(f"/jobs/{job}/photos/{kept.content}").headers["content-type"] == "image/png"


# papers


@pytest.mark.parametrize("paper", ["report", "blank", "strip", "rebuild"])
def test_papers_are_made(shop: LiveBench, paper: str) -> None:
    shop.forget_attempts()
    answer = visitor(shop.bench, "ron").get(f"/jobs/KQ-0403/papers/{paper}")
    assert answer.status_code == 200
    assert answer.content.startswith(b"%PDF-")


def test_the_job_as_lines_is_its_journal(shop: LiveBench) -> None:
    shop.forget_attempts()
    lines = visitor(shop.bench, "ron").get("/jobs/KQ-0403/export/journal").text.splitlines()
    events = shop.bench.store.events("KQ-0403")
    assert lines == [event.text for event in events]
    assert json.loads(lines[0])["kind"] == "booked in"


def test_what_stands_as_a_sheet_is_taken_over_into_another_shop(shop: LiveBench) -> None:
    """The sheet of a job, sent back to it, says what it said."""
    shop.forget_attempts()
    cora = visitor(shop.bench, "cora")
    text = cora.get("/jobs/KQ-0403/export/sheet").text
    before = shop.bench.store.state("KQ-0403")
    answer = _send(cora, "KQ-0403", "sheet.toml", text.encode())
    assert answer.status_code == 303
    after = shop.bench.store.state("KQ-0403")
    assert {k: e.body for k, e in after.readings.items()} == {
        k: e.body for k, e in before.readings.items()
    }
    said = [e.body.text for e in after.remarks if isinstance(e.body, Remarked)]
    assert any("sheet.toml taken over" in words for words in said)


def test_a_sheet_with_faults_or_of_another_job_enters_nothing(shop: LiveBench) -> None:
    shop.forget_attempts()
    cora = visitor(shop.bench, "cora")
    before = shop.bench.store.state("KQ-0402").seq
    wrong = demo_sheets()[0].read_bytes()
    answer = _send(cora, "KQ-0402", "01-sound.toml", wrong)
    assert answer.status_code == 422
    assert "KQ-0401" in answer.text
    answer = _send(cora, "KQ-0402", "x.toml", b"format = 1\njob = ")
    assert answer.status_code == 422
    assert "line 2" in answer.text
    assert _send(cora, "KQ-0402", "x.exe", b"MZ").status_code == 422
    assert shop.bench.store.state("KQ-0402").seq == before


def _send(cora, job: str, name: str, data: bytes):  # type: ignore[no-untyped-def]
    return cora.client.post(
        f"/jobs/{job}/sheet", data={"_token": cora.token()}, files={"sheet": (name, data)}
    )


# history


def test_earlier_visits_are_ghosts_on_the_rulers(at_desk: Page, shop: LiveBench) -> None:
    first = booked_job(shop, "VISIT-1")
    enter(shop, first, *all_answers(shop, first))
    second = booked_job(shop, "VISIT-2", serial="S-VISIT-1")
    enter(shop, second, *all_answers(shop, second))
    at_desk.goto(f"{shop.address}/jobs/{second}/parts/top_hook")
    ruler = at_desk.locator(".ruler svg").first
    assert ruler.locator("circle").count() == 1
    at_desk.goto(f"{shop.address}/jobs/{second}/history")
    expect(at_desk.get_by_role("link", name="VISIT-1", exact=True)).to_be_visible()
    at_desk.goto(f"{shop.address}/jobs/{first}/parts/top_hook")
    assert at_desk.locator(".ruler svg").first.locator("circle").count() == 0


def test_a_lost_connection_is_accessible_and_said(shop: LiveBench, browser: Browser) -> None:
    job = booked_job(shop, "A11Y-1")
    context = opened(browser, TELEPHONE, touch=True)
    page = context.new_page()
    at_bench(page, shop, "cora")
    page.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    context.set_offline(True)
    page.locator("button[value=defect]").first.tap()
    expect(page.locator("#waiting")).to_contain_text("No connection")
    assert not accessibility_faults(page)
    assert not scrolls_sideways(page)
    context.close()


def test_a_question_is_accessible(shop: LiveBench, at_desk: Page) -> None:
    job = booked_job(shop, "A11Y-2")
    at_desk.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    field = at_desk.locator("form.caliper [name=value]").first
    field.fill("72.5 in")
    field.press("Enter")
    expect(at_desk.locator(".asked:not(:empty)")).to_be_visible()
    assert not accessibility_faults(at_desk)
