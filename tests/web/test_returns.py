"""Returns, load and recalls on the bench: for a foreman, a customer, a calendar programme."""

from __future__ import annotations

import csv
import datetime
import io
import re
from collections.abc import Iterator
from pathlib import Path

import attrs
import icalendar
import pytest
from bench_client import Visitor, visitor
from bench_live import LiveBench, live, made_bench
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
from fleet_scene import CUSTOMERS, Visit, enter, made_fleet
from playwright.sync_api import Browser, expect

from hoistwright.fleet.due import all_due
from hoistwright.store.connect import writing
from hoistwright.web.records.accounts import change_account, find_account
from hoistwright.web.whole_fleet import whole_fleet

BOATYARD = CUSTOMERS[0].name


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LiveBench]:
    """A bench with 40 hoists that come back; one will not last, one is long overdue."""
    bench = made_bench(tmp_path_factory.mktemp("returns"), jobs=False)
    today = bench.today
    for visit in made_fleet(40, today):
        enter(bench.store, visit)
    late = today - datetime.timedelta(days=430)
    enter(bench.store, Visit(job="L-1", serial="LATE", day=late, chain=0.1,
                             due=late + datetime.timedelta(days=365)))  # fmt: skip
    begun = today - datetime.timedelta(days=240)
    worn = Visit(job="W-1", serial="WORN", day=begun, chain=0.5, customer=CUSTOMERS[1])
    enter(bench.store, worn)
    now = attrs.evolve(worn, job="W-2", day=today - datetime.timedelta(days=5), chain=0.8,
                       due=today + datetime.timedelta(days=360))  # fmt: skip
    enter(bench.store, now)
    enter(bench.store, Visit(job="B-1", serial="BATCH", day=begun, chain=0.99, new_chain=True,
                             trace="heat 26-777"))  # fmt: skip
    with live(bench) as running:
        yield running


@pytest.fixture(scope="module")
def cora(yard: LiveBench) -> Visitor:
    return visitor(yard.bench, "cora")


PAGES = (
    "/returns?ahead=all",
    "/returns?view=month",
    "/returns?view=customer&ahead=26",
    f"/returns/letter?ahead=all&customer={BOATYARD}&language=fr",
    "/load",
    "/recalls?trace=26-777",
    "/hoists/ardle~2Fworn",
    "/jobs/W-2/history",
)


@pytest.mark.parametrize("size", [DESK, TABLET, TELEPHONE], ids=["desk", "tablet", "telephone"])
def test_pages_are_accessible_and_fit(
    yard: LiveBench, browser: Browser, size: tuple[int, int]
) -> None:
    context = opened(browser, size)
    page = context.new_page()
    yard.forget_attempts()
    sign_in(page, yard.address, "cora")
    said = complaints(page)
    faults: list[str] = []
    for path in PAGES:
        page.goto(yard.address + path)
        faults += [f"{path}: {fault}" for fault in accessibility_faults(page)]
        faults += [f"{path}: wider than the screen"] if scrolls_sideways(page) else []
    context.close()
    assert faults == []
    assert said == []


def test_pages_answer_in_french(yard: LiveBench) -> None:
    """No text of the forecasts, doubts among them, breaks a page or stays in English."""
    with writing(yard.bench.engine) as conn:
        account = find_account(conn, "ron")
        assert account is not None
        change_account(conn, attrs.evolve(account, language="fr"))
    ron = visitor(yard.bench, "ron")
    for path in PAGES:
        text = ron.get(path).text
        assert "Hoistwright conseille" in text, path
        assert not re.search(r"\b(about|chance|Reading|interval|limit) (of|in|is|for)\b", text), (
            path
        )


def test_the_list_shows_overdue_first_and_says_why(yard: LiveBench, browser: Browser) -> None:
    page = opened(browser, DESK).new_page()
    yard.forget_attempts()
    sign_in(page, yard.address, "cora")
    page.goto(f"{yard.address}/returns?ahead=all")
    first = page.locator("tbody tr").first
    due = all_due(whole_fleet(yard.bench))
    expect(first).to_contain_text(due[0].last.identity.serial)
    expect(first).to_contain_text("overdue by")
    worn = page.locator("tbody tr", has_text="WORN")
    expect(worn).to_contain_text("wear")
    expect(worn).to_contain_text("Load chain, gauge length may not last until")
    assert page.locator("tbody tr").count() == len(due)
    page.context.close()


def test_a_hoist_shows_its_history_as_pictures(yard: LiveBench, browser: Browser) -> None:
    page = opened(browser, TABLET).new_page()
    yard.forget_attempts()
    sign_in(page, yard.address, "cora")
    page.goto(f"{yard.address}/hoists/ardle~2Fworn")
    first = page.locator("figure.history").first
    expect(first.locator("h3")).to_have_text("load chain, gauge length")
    expect(first.locator("figcaption")).to_contain_text("Chance of being beyond the limit by")
    expect(page.get_by_role("img", name=re.compile("load chain, gauge length"))).to_be_visible()
    # text in the picture stays readable: nothing below 11 pixels on a tablet
    sizes = first.locator("svg text").evaluate_all(
        "all => all.map(t => { const svg = t.ownerSVGElement;"
        " return parseFloat(getComputedStyle(t).fontSize) *"
        " svg.getBoundingClientRect().width / svg.viewBox.baseVal.width; })"
    )
    assert min(sizes) >= 11
    page.context.close()


def test_the_table_holds_what_the_page_shows(yard: LiveBench, cora: Visitor) -> None:
    answer = cora.get("/returns/table.csv?ahead=all")
    assert answer.headers["content-type"].startswith("text/csv")
    rows = list(csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig"))))
    due = all_due(whole_fleet(yard.bench))
    assert [row["due"] for row in rows] == [item.day.isoformat() for item in due]
    assert {row["serial"] for row in rows} >= {"LATE", "WORN", "BATCH"}


def test_a_letter_is_in_the_customers_language(cora: Visitor) -> None:
    ask = f"/returns/letter?ahead=all&customer={BOATYARD}&language="
    english, french = cora.get(ask + "en").text, cora.get(ask + "fr").text
    assert "Take a hoist whose day has passed out of use until it is examined." in english
    assert "Retirez du service tout palan dont l’échéance est passée" in french
    assert "LATE" in english
    assert "WORN" not in english  # of another customer
    assert 'href="mailto:?subject=' in english
    assert cora.get("/returns/letter?customer=nobody").status_code == 404


def test_a_calendar_is_followed_at_its_private_address(yard: LiveBench, cora: Visitor) -> None:
    made = cora.post("/returns", {"customer": BOATYARD})
    assert made.status_code == 200
    found = re.search(r"/returns/calendar/[\w-]+\.ics", made.text)
    assert found
    stranger = visitor(yard.bench)  # nobody signed in, as a calendar programme comes
    answer = stranger.get(found[0])
    assert answer.headers["content-type"].startswith("text/calendar")
    events = icalendar.Calendar.from_ical(answer.text).walk("VEVENT")
    due = [d for d in all_due(whole_fleet(yard.bench)) if d.last.customer.name == BOATYARD]
    days = sorted(event["DTSTART"].dt for event in events)  # type: ignore[union-attr]
    # overdue on paper: that day; called back by wear: today, until it is done; else its day
    today = yard.bench.today
    assert days == sorted(
        item.paper if item.paper and item.overdue(today) else max(item.day, today) for item in due
    )
    assert all(BOATYARD in str(event["SUMMARY"]) for event in events)
    # a new address voids the old one; taking it back voids the new one
    again = re.search(
        r"/returns/calendar/[\w-]+\.ics", cora.post("/returns", {"customer": BOATYARD}).text
    )
    assert again
    assert stranger.get(found[0]).status_code == 404
    assert stranger.get(again[0]).status_code == 200
    assert cora.post("/returns", {"do": "end", "customer": BOATYARD}).status_code == 303
    assert stranger.get(again[0]).status_code == 404


def test_who_leaves_the_shop_takes_no_calendar_along(yard: LiveBench) -> None:
    tim = visitor(yard.bench, "tim")
    found = re.search(r"/returns/calendar/[\w-]+\.ics", tim.post("/returns", {"customer": ""}).text)
    assert found
    with writing(yard.bench.engine) as conn:
        account = find_account(conn, "tim")
        assert account is not None
        change_account(conn, attrs.evolve(account, active=False))
    assert visitor(yard.bench).get(found[0]).status_code == 404
    with writing(yard.bench.engine) as conn:
        change_account(conn, account)


def test_a_guessed_address_answers_nothing(yard: LiveBench) -> None:
    assert visitor(yard.bench).get("/returns/calendar/abc.ics").status_code == 404


def test_the_load_shows_weeks_and_hours(cora: Visitor) -> None:
    text = cora.get("/load?weeks=26").text
    assert text.count("<rect ") == 27  # overdue and 26 weeks
    assert "Parts to have ready" in text


def test_a_batch_is_recalled(cora: Visitor) -> None:
    text = cora.get("/recalls?trace=HEAT 26/777").text
    assert "BATCH" in text
    assert "1 part still in a hoist" in text
    table = cora.get("/recalls/parts.csv?trace=26-777").content.decode("utf-8-sig")
    assert "heat 26-777" in table
    assert "No part with" in cora.get("/recalls?trace=nothing").text


def test_a_gauge_found_wrong_names_the_jobs_whose_verdicts_change(
    yard: LiveBench, cora: Visitor
) -> None:
    since = (yard.bench.today - datetime.timedelta(days=30)).isoformat()
    form = {"gauge": "long-1", "since": since, "until": "", "error": "-2", "spread": "0.1"}
    text = cora.post("/recalls", form).text
    assert "a verdict becomes worse" in text
    assert "W-2" in text
    assert "W-1" not in text  # before the gauge was in doubt
    table = cora.post("/recalls", {**form, "as": "csv"}).content.decode("utf-8-sig")
    rows = [row for row in csv.DictReader(io.StringIO(table)) if row["job"] == "W-2"]
    assert {(row["was"], row["would be"]) for row in rows} == {("fit", "renew")}


def test_what_is_wrong_in_the_question_is_said_and_kept(cora: Visitor) -> None:
    answer = cora.post("/recalls", {"gauge": "long-1", "since": "", "error": "2 kg", "spread": ""})
    assert answer.status_code == 422
    assert "Since when it may have been wrong" in answer.text
    assert "2 kg" in answer.text


def test_the_number_of_a_new_part_is_noted_at_the_rebuild(tmp_path: Path) -> None:
    bench = made_bench(tmp_path, jobs=False)
    visit = Visit(
        job="T-1", serial="T", day=bench.today, chain=0.99, new_chain=True, stop="rebuild"
    )
    enter(bench.store, visit)
    who = visitor(bench, "cora")
    page = who.get("/jobs/T-1/rebuild").text
    assert "number, batch or certificate" in page
    fields = {"do": "choose", "id": "note-of-a-batch-1", "part": "load_chain", "renew": "yes",
              "reason": "", "trace": "heat 26-9", "seen": "99"}  # fmt: skip
    assert who.post("/jobs/T-1/rebuild", fields).status_code in (200, 303)
    kept = bench.store.state("T-1").choices["load_chain"].body
    assert getattr(kept, "trace", "") == "heat 26-9"
    # chosen again without a word about it, the number stays
    more = {**fields, "id": "note-of-a-batch-2"}
    del more["trace"]
    who.post("/jobs/T-1/renew", more)
    kept = bench.store.state("T-1").choices["load_chain"].body
    assert getattr(kept, "trace", "") == "heat 26-9"
    bench.store.close()
