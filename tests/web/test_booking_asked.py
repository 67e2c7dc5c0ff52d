"""A rated load that no hoist has is asked back; what a known hoist brings along with it."""

from __future__ import annotations

import datetime
import re

import pytest
from bench_client import Visitor, visitor
from bench_live import LiveBench
from browser import TABLET, opened, sign_in
from hypothesis import given
from hypothesis import strategies as st
from job_scene import enter
from playwright.sync_api import Browser, expect

from hoistwright.job.events import BookedIn, ExaminedOn, StageFinished
from hoistwright.job.job_sheet import Customer, HoistIdentity
from hoistwright.quantity import Dimension, parse
from hoistwright.web.plate_load import meant_loads, plausible

UNITS = ("t", "kg", "lb")


@pytest.fixture
def kim(shop: LiveBench) -> Visitor:
    shop.forget_attempts()
    return visitor(shop.bench, "kim")


def _fields(**more: str) -> dict[str, str]:
    plain = {"kind": "hand chain hoist", "maker": "Ardle", "serial": "LOAD-1", "design": "later",
             "customer": "Greywether Quarry", "bases": "workshop-practice", "service": "normal",
             "received_on": "2026-11-25", "found": "lifts and holds"}  # fmt: skip
    return {**plain, **more}


def _value(page: str, name: str) -> str:
    found = re.search(rf'<input id="{name}"[^>]* value="([^"]*)"', page)
    assert found is not None
    return found[1]


def _offered(page: str) -> list[str]:
    """The designs that stand there without unfolding anything."""
    unfolded = page.partition('<details class="wide"')[0]
    return re.findall(r'name="design" value="(ardle-\S+)"', unfolded)


def test_two_kilograms_are_asked_back_by_one_touch(shop: LiveBench, browser: Browser) -> None:
    """A plate's "2" means two tonnes: no hoist is made for 2 kg."""
    shop.forget_attempts()
    context = opened(browser, TABLET, touch=True)
    page = context.new_page()
    sign_in(page, shop.address, "tim")
    page.goto(shop.address + "/book-in")
    page.fill("#rated_load", "2")
    page.locator("#falls").tap()
    asked = page.locator("#load-asked")
    expect(asked).to_contain_text("2 kg, or 2 t?")
    page.locator(".great").tap()  # not sent with the question open: photos would be lost
    assert page.url.endswith("/book-in")
    asked.get_by_role("button", name="2 t", exact=True).tap()
    expect(asked).to_be_empty()
    assert page.input_value("#rated_load") == "2 t"
    expect(page.locator(".design", has_text="Ardle 2000").first).to_contain_text("✓ rated load")
    context.close()


def test_without_script_nothing_is_booked_until_it_is_answered(
    shop: LiveBench, kim: Visitor
) -> None:
    answer = kim.post("/book-in", _fields(rated_load="2"))
    assert answer.status_code == 422
    assert "2 kg, or 2 t?" in answer.text
    chosen = kim.post("/book-in?act=find", {**_fields(), "rated_load": ["2", "2 t"]})
    assert chosen.status_code == 200
    assert _value(chosen.text, "rated_load") == "2 t"
    assert _value(chosen.text, "customer") == "Greywether Quarry"
    assert not shop.bench.store.search("LOAD-1")


def test_what_really_is_so_is_taken(shop: LiveBench, kim: Visitor) -> None:
    answer = kim.post("/book-in", _fields(rated_load="25 kg!", serial="LOAD-2"))
    assert answer.status_code == 303
    assert [row.rated_load for row in shop.bench.store.search("LOAD-2")] == [25.0]


def test_a_load_that_the_chosen_design_has_not_is_asked_back(kim: Visitor) -> None:
    """200 kg is a load of hoists, but not of one whose design is rated for two tonnes."""
    answer = kim.post("/book-in", _fields(rated_load="200 kg", design="ardle-2000"))
    assert answer.status_code == 422
    assert "200 kg? The design Ardle 2000 is rated for 2 t." in answer.text


@given(st.floats(0.01, 1e6), st.lists(st.floats(100, 50_000), max_size=2))
def test_what_is_offered_is_plausible_itself(load: float, rated: list[float]) -> None:
    found = parse(f"{load:.4f}", Dimension.MASS, unit="kg")
    for offer in meant_loads(found, rated, UNITS):
        assert plausible(parse(offer, Dimension.MASS).si, rated)


def test_a_known_hoist_brings_what_its_last_visit_said(shop: LiveBench, kim: Visitor) -> None:
    """The service class changes when it is due next; the kind, which designs fit."""
    job, day = "KNOWN-1", datetime.date(2026, 3, 2)
    booked = BookedIn(
        hoist=HoistIdentity(maker="Ardle", model="L750", serial="KN-1", rated_load=750.0,
                            manufactured="2021"),
        customer=Customer(name="Theatre (invented)", address="3 Fly Lane", premises="grid",
                          language="fr"),
        design="ardle-l750",
        bases=("workshop-practice",),
        found="lifts and holds",
        service="heavy",
    )  # fmt: skip
    enter(shop, job, booked, ExaminedOn(day=day), StageFinished(stage="examine"))
    page = kim.get("/book-in?hoist=ardle%2Fkn1").text
    assert re.search(r'value="lever hoist"\s+checked', page)
    assert re.search(r'value="heavy" selected', page)
    assert re.search(r'value="fr" selected', page)
    assert _value(page, "last_examined_on") == "2026-03-02"
    assert _value(page, "manufactured") == "2021"
    assert _value(page, "address") == "3 Fly Lane"
    assert re.findall(r'name="design" value="(\S+)" checked', page) == ["ardle-l750"]
    assert _offered(page) == ["ardle-l750"]
    assert "differs" not in page
    assert "has not left the shop" in page


def test_other_designs_are_folded_away_until_the_plate_speaks_for_them(
    shop: LiveBench, kim: Visitor
) -> None:
    enter(shop, "KNOWN-2", BookedIn(
        hoist=HoistIdentity(maker="Ardle", model="2000", serial="KN-2", rated_load=2000.0),
        customer=Customer(name="Theatre (invented)"), design="ardle-2000"))  # fmt: skip
    page = kim.get("/book-in?hoist=ardle%2Fkn2").text
    assert _offered(page) == ["ardle-2000"]
    assert "Another design after all" in page  # one with the same load and chain
    sent = _fields(hoist="ardle/kn2", rated_load="3 t", serial="KN-2", design="ardle-2000")
    page = kim.post("/book-in?act=find", sent).text
    assert {"ardle-2000", "ardle-3000"} <= set(_offered(page))
