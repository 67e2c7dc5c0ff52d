"""What a job's pages take, ask back, correct and keep: by script, by keyboard, by plain forms."""

from __future__ import annotations

import re

import attrs
import pytest
from bench_client import Visitor, visitor
from bench_live import LiveBench
from browser import TABLET, opened
from job_scene import all_answers, at_bench, booked_job, enter, facts_of
from playwright.sync_api import Browser, Page, expect

from hoistwright.job.events import (
    HoldPointSigned,
    LookAnswered,
    PartChosen,
    ReadingEntered,
    StepTicked,
)

HOOK = ("top_hook", "hook.throat", "")


@pytest.fixture
def cora(shop: LiveBench) -> Visitor:
    shop.forget_attempts()
    return visitor(shop.bench, "cora")


def _form(what: str, **fields: str) -> dict[str, str]:
    return {"do": what, **fields}


def _throat(value: str, **more: str) -> dict[str, str]:
    fields = {"part": HOOK[0], "feature": HOOK[1], "place": HOOK[2], "gauge": "cal-1"}
    return _form("reading", value=value, **{**fields, **more})


def _reading(shop: LiveBench, job: str) -> ReadingEntered:
    body = shop.bench.store.state(job).readings[HOOK].body
    assert isinstance(body, ReadingEntered)
    return body


# figures


def test_a_figure_left_by_touch_is_kept(shop: LiveBench, browser: Browser) -> None:
    """A tablet's keyboard has no Enter that anybody looks for: touching on is enough."""
    job = booked_job(shop, "LEFT-1")
    context = opened(browser, TABLET, touch=True)
    page = context.new_page()
    at_bench(page, shop, "cora")
    page.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    page.locator("form.caliper [name=value]").first.tap()
    page.keyboard.type("72.5")
    page.locator("form.caliper [name=value]").nth(1).tap()
    expect(page.get_by_text("72.5 mm", exact=True)).to_be_visible()
    assert _reading(shop, job).values == (0.0725,)
    page.locator("form.caliper [name=value]").nth(2).tap()
    page.keyboard.type("35.9")
    page.locator("#next-part").tap()
    page.wait_for_url("**/parts/*")
    expect(page.locator("body")).to_have_attribute("data-waiting", "0")
    saddle = shop.bench.store.state(job).readings["top_hook", "hook.saddle_depth", ""].body
    assert isinstance(saddle, ReadingEntered)
    assert saddle.values == (0.0359,)
    context.close()


def test_a_figure_left_for_its_gauge_waits(shop: LiveBench, at_desk: Page) -> None:
    """Whoever types first and then says by which gauge has not finished the reading."""
    job = booked_job(shop, "LEFT-2")
    at_desk.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    field = at_desk.locator("form.caliper [name=value]").first
    field.fill("72.5")
    at_desk.locator("select.gauge-choice").first.focus()
    assert field.input_value() == "72.5"
    field.press("Enter")
    expect(at_desk.get_by_text("72.5 mm", exact=True)).to_be_visible()


def test_a_wrong_unit_is_asked_back_and_answered_by_one_touch(
    at_desk: Page, shop: LiveBench
) -> None:
    """72.5 in typed where 72 mm is as new cannot be: 25.4 times too large."""
    job = booked_job(shop, "ASK-1")
    at_desk.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    field = at_desk.locator("form.caliper [name=value]").first
    field.fill("72.5 in")
    field.press("Enter")
    asked = at_desk.locator(".asked:not(:empty)")
    expect(asked).to_contain_text("72.5 in, or 72.5 mm?")
    asked.get_by_role("button", name="72.5 mm").click()
    expect(at_desk.get_by_text("72.5 mm", exact=True)).to_be_visible()
    expect(at_desk.locator("#waiting")).to_be_hidden()
    assert _reading(shop, job).values == pytest.approx((0.0725,))


def test_a_slipped_decimal_is_asked_back_without_script(cora: Visitor, shop: LiveBench) -> None:
    job = booked_job(shop, "ASK-2")
    answer = cora.post(f"/jobs/{job}/parts/top_hook", _throat("7.25"))
    assert answer.status_code == 422
    assert "7.25 mm? As new it is 72 mm." in answer.text
    assert ">72.5 mm</button>" in answer.text
    assert not shop.bench.store.state(job).readings
    assert cora.post(f"/jobs/{job}/parts/top_hook", _throat("7.25 mm!")).status_code == 303
    assert _reading(shop, job).values == pytest.approx((0.00725,))


@pytest.mark.parametrize("typed", ["", "abc", "-3", "1e99", "12.1; x", "∞", "0x10"])
def test_what_is_no_figure_is_told_and_nothing_entered(
    cora: Visitor, shop: LiveBench, typed: str
) -> None:
    job = booked_job(shop, "ASK-3")
    assert cora.post(f"/jobs/{job}/parts/top_hook", _throat(typed)).status_code == 422
    assert not shop.bench.store.state(job).readings


def test_only_gauges_that_reach_the_size_are_offered(cora: Visitor, shop: LiveBench) -> None:
    """A throat of 72 mm is not measured with a micrometer of 0 to 25 mm."""
    job = booked_job(shop, "REACH-1")
    page = cora.get(f"/jobs/{job}/parts/top_hook").text
    throat = page[page.index('class="gauge-choice"') :].split("</select>")[0]
    assert 'value="cal-1"' in throat
    assert 'value="mic-1"' not in throat
    assert "before its use on" not in throat


def test_a_gauge_that_cannot_reach_is_asked_back(cora: Visitor, shop: LiveBench) -> None:
    """A micrometer up to 25 mm reads no throat of 50 mm."""
    job = booked_job(shop, "ASK-4")
    answer = cora.post(f"/jobs/{job}/parts/top_hook", _throat("50.5", gauge="mic-1"))
    assert answer.status_code == 422
    assert "Choose the gauge that you used" in answer.text


@pytest.mark.parametrize(("value", "word"), [("72.1", "fit"), ("80", "renew")])
def test_script_is_answered_with_the_verdict_of_what_was_entered(
    cora: Visitor, shop: LiveBench, value: str, word: str
) -> None:
    """A throat of 72 mm as new that is 80 mm now has opened by 11 %; 5 % is the most."""
    job = booked_job(shop, f"TOLD-{word}")
    answer = cora.client.post(
        f"/jobs/{job}/parts/top_hook",
        data={"_token": cora.token(), **_throat(value)},
        headers={"accept": "application/json"},
    )
    assert answer.status_code == 200
    place = answer.json()["place"]
    assert f'class="state {word}"' in place
    assert f"{value} mm" in place
    assert "<form" not in place  # what can be done with it comes with the page


def test_repeats_join_and_another_gauge_begins_anew(cora: Visitor, shop: LiveBench) -> None:
    job = booked_job(shop, "REP-1")
    for value in ("50.5", "50.6; 50.7"):
        cora.post(f"/jobs/{job}/parts/top_hook", _throat(value))
    assert _reading(shop, job).values == pytest.approx((0.0505, 0.0506, 0.0507))
    cora.post(f"/jobs/{job}/parts/top_hook", _throat("50.9", gauge="cal-2"))
    assert _reading(shop, job).values == pytest.approx((0.0509,))


def test_a_repeat_of_what_one_has_not_seen_is_no_repeat(cora: Visitor, shop: LiveBench) -> None:
    """Two people measured the same without knowing: that is a conflict, not a series."""
    job = booked_job(shop, "REP-2")
    seen = str(shop.bench.store.state(job).seq)
    part, feature, _ = HOOK
    other = ReadingEntered(part=part, feature=feature, values=(0.052,), unit="mm", gauge="cal-1")
    enter(shop, job, other, by="tim")
    cora.post(f"/jobs/{job}/parts/top_hook", _throat("50.5", seen=seen))
    assert _reading(shop, job).values == pytest.approx((0.0505,))
    assert len(shop.bench.store.state(job).conflicts) == 1


def test_inches_are_taken_as_inches(cora: Visitor, shop: LiveBench) -> None:
    job = booked_job(shop, "INCH-1")
    page = cora.client.get(f"/jobs/{job}/parts/top_hook?units=in").text
    assert 'name="unit" value="in"' in page
    cora.post(f"/jobs/{job}/parts/top_hook", _throat("1.99", unit="in"))
    reading = _reading(shop, job)
    assert reading.values == pytest.approx((1.99 * 0.0254,))
    assert reading.unit == "in"


# undo and corrections


def test_undo_is_a_correction_and_history_keeps_both(at_desk: Page, shop: LiveBench) -> None:
    job = booked_job(shop, "UNDO-1")
    at_desk.goto(f"{shop.address}/jobs/{job}/parts/top_hook")
    field = at_desk.locator("form.caliper [name=value]").first
    field.fill("50.5")
    field.press("Enter")
    row = at_desk.locator(".measure-row").first
    row.locator("details.more summary").first.click()
    row.locator("[name=value]:visible").last.fill("50.4")
    row.locator("[name=reason]").fill("misread")
    row.get_by_role("button", name="Correct it").click()
    expect(row.locator(".value")).to_have_text("50.4 mm")
    assert _reading(shop, job).values == pytest.approx((0.0504,))
    row.get_by_role("button", name="Undo").click()
    expect(row.locator(".value")).to_have_count(0)
    assert HOOK not in shop.bench.store.state(job).readings
    at_desk.goto(f"{shop.address}/jobs/{job}/history")
    journal = at_desk.locator("#journal")
    for words in ("50.5 mm", "50.4 mm", "misread", "taken back"):
        expect(journal).to_contain_text(words)


def test_a_form_sent_twice_is_entered_once(cora: Visitor, shop: LiveBench) -> None:
    job = booked_job(shop, "TWICE-1")
    fields = _throat("50.5", id="a-form-with-its-id")
    for _ in range(3):
        assert cora.post(f"/jobs/{job}/parts/top_hook", fields).status_code == 303
    assert len(_reading(shop, job).values) == 1


def test_nobody_sends_an_entry_under_the_id_of_another(cora: Visitor, shop: LiveBench) -> None:
    job = booked_job(shop, "TWICE-2")
    fields = _throat("50.5", id="a-form-with-its-id-2")
    cora.post(f"/jobs/{job}/parts/top_hook", fields)
    shop.forget_attempts()
    answer = visitor(shop.bench, "tim").post(f"/jobs/{job}/parts/top_hook", fields)
    assert answer.status_code == 409  # a clash of ids, refused in words; nothing entered
    assert shop.bench.store.state(job).readings[HOOK].last.by == "cora"


# by keyboard and without script


def test_a_part_is_reached_and_examined_by_keyboard_alone(at_desk: Page, shop: LiveBench) -> None:
    job = booked_job(shop, "KEY-1")
    at_desk.goto(f"{shop.address}/jobs/{job}")
    part = at_desk.locator("#drawing [data-part=suspension_pin]")
    part.focus()
    at_desk.keyboard.press("Enter")
    at_desk.wait_for_url(re.compile("parts/suspension_pin"))
    at_desk.locator("form.caliper [name=value]").first.focus()
    at_desk.keyboard.type("20.1")
    at_desk.keyboard.press("Enter")
    expect(at_desk.locator(".kept .value")).to_have_text("20.1 mm")
    answer = at_desk.locator("button.answer[value='in order']").first
    expect(answer).to_be_focused()  # the caliper's Enter has gone on to the first look
    at_desk.keyboard.press("Enter")
    expect(answer).to_have_attribute("aria-pressed", "true")
    expect(at_desk.locator("#parthead")).to_contain_text("2 of 2 done")


def test_without_script_plain_forms_do_it_all(browser: Browser, shop: LiveBench) -> None:
    job = booked_job(shop, "PLAIN-1")
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    at_bench(page, shop, "cora")
    page.goto(f"{shop.address}/jobs/{job}")
    page.locator("#parts a", has_text="top hook").first.click()
    page.locator("form.caliper [name=value]").first.fill("725")
    page.locator("form.caliper button").first.click()
    page.get_by_role("button", name="72.5 mm", exact=True).click()
    expect(page.get_by_text("72.5 mm", exact=True)).to_be_visible()
    page.locator("button.answer[value=defect]").first.click()
    expect(page.locator("button.answer[value=defect]").first).to_have_attribute(
        "aria-pressed", "true"
    )
    page.goto(f"{shop.address}/jobs/{job}/strip")
    page.locator(".tickbox").first.click()
    expect(page.locator("li.step").first).to_have_class("step ticked")
    context.close()


# hold points and choices


def test_a_hold_point_is_signed_by_whoever_is_there_and_only_when_done(
    cora: Visitor, shop: LiveBench
) -> None:
    job = booked_job(shop, "HOLD-1", strip_to=("friction_disc_outer",))
    plan = facts_of(shop, job).rebuild
    assert plan is not None
    step = plan.hold_points[0].step
    path = f"/jobs/{job}/rebuild"
    assert cora.post(path, _form("sign", step=step, name="cora")).status_code == 422
    cora.post(path, _form("tick", way="rebuild", step=step, done="yes"))
    assert cora.post(path, _form("sign", step=step, name="tim")).status_code == 422
    assert cora.post(path, _form("sign", step=step, name="cora")).status_code == 303
    signed = shop.bench.store.state(job).signatures[step]
    assert signed.event.body == HoldPointSigned(step=step, text=plan.hold_points[0].text)
    cora.post(path, _form("tick", way="rebuild", step=step, done="no"))
    assert step not in shop.bench.store.state(job).signatures


def test_those_who_only_see_change_nothing(shop: LiveBench) -> None:
    job = booked_job(shop, "SEE-1")
    shop.forget_attempts()
    reader = visitor(shop.bench, "ron")
    page = reader.get(f"/jobs/{job}/parts/top_hook")
    assert page.status_code == 200
    assert "data-entry" not in page.text
    assert reader.post(f"/jobs/{job}/parts/top_hook", _throat("50.5")).status_code == 403
    assert not shop.bench.store.state(job).readings


def test_a_part_stays_in_only_with_a_reason(cora: Visitor, shop: LiveBench) -> None:
    job = booked_job(shop, "STAY-1")
    path = f"/jobs/{job}/renew"
    assert cora.post(path, _form("choose", part="pawl", renew="no")).status_code == 422
    cora.post(path, _form("choose", part="pawl", renew="no", reason="looked at twice"))
    body = shop.bench.store.state(job).choices["pawl"].body
    assert body == PartChosen(part="pawl", renew=False, reason="looked at twice")


def test_strip_and_kit_follow_the_choices(cora: Visitor, shop: LiveBench) -> None:
    """Springs are renewed in pairs, and their retaining rings are one-use parts."""
    job = booked_job(shop, "KIT-1")
    cora.post(f"/jobs/{job}/strip", _form("extent", parts="pawl_spring"))
    cora.post(f"/jobs/{job}/renew", _form("choose", part="pawl_spring", renew="yes"))
    kit = cora.get(f"/jobs/{job}/renew").text.split("Kit</h2>")[1]
    for piece in ("pawl spring", "pawl retaining ring", "cover lock washer"):
        assert piece in kit
    assert "gear case lock washer" not in kit


# hostile and strange input


@pytest.mark.parametrize(
    "fields",
    [
        {"do": "nothing"},
        {"do": "look", "part": "../..", "feature": "x", "answer": "defect"},
        {"do": "look", "part": "top_hook", "feature": "hook.cracks", "answer": "maybe"},
        {"do": "tick", "way": "up", "step": "none"},
        {"do": "withdraw", "entry": "none"},
        {"do": "settle", "entry": "none"},
        {"do": "give", "person": "nobody-of-that-name"},
        {"do": "finish", "stage": "the end"},
        {"do": "day", "day": "2999-01-01"},
        {"do": "remark", "text": ""},
        {"do": "extent"},
        {"do": "bases", "bases": "none"},
        {"do": "design", "design": "../../etc"},
        {"do": "reading", "part": "hoist", "feature": "hoist.direction", "value": "1"},
        {"do": "remark", "text": "x", "id": "no good id!"},
    ],
)
def test_strange_forms_are_refused_in_words(
    cora: Visitor, shop: LiveBench, fields: dict[str, str]
) -> None:
    job = booked_job(shop, "ODD-1")
    seq = shop.bench.store.state(job).seq
    answer = cora.post(f"/jobs/{job}", fields)
    assert answer.status_code == 422, answer.headers.get("location")
    assert 'class="wrongs"' in answer.text
    assert shop.bench.store.state(job).seq == seq


def test_typed_text_is_never_markup(cora: Visitor, shop: LiveBench) -> None:
    job = booked_job(shop, "ODD-2")
    look = LookAnswered(
        part="top_hook", feature="hook.cracks", answer="defect", remark="<b onclick=x>'\"&"
    )
    enter(shop, job, look, StepTicked(way="strip", step="<i>"))
    for page in ("", "/parts/top_hook", "/history", "/strip"):
        text = cora.get(f"/jobs/{job}{page}").text
        assert "<b onclick" not in text
        assert "<i>" not in text


def test_nothing_is_entered_on_a_job_that_is_not_there(cora: Visitor, shop: LiveBench) -> None:
    """Not at the second time either, when the bench has asked the record for it already."""
    for _ in range(2):
        assert cora.get("/jobs/NONE-1").status_code == 404
        assert cora.post("/jobs/NONE-1", _form("remark", text="x")).status_code == 404
    assert shop.bench.store.events("NONE-1") == ()


def test_jobs_that_are_not_there(cora: Visitor) -> None:
    for path in ("/jobs/none", "/jobs/none/stream", "/jobs/none/parts/x", "/jobs/none/papers"):
        assert cora.get(path).status_code == 404
    assert cora.get("/jobs/KQ-0402/parts/none").status_code == 404
    assert cora.get("/jobs/KQ-0402/drawing/round").status_code == 404
    assert cora.get("/jobs/KQ-0402/steps/strip/none").status_code == 404


def test_an_overstrained_chain_is_not_fit_in_the_list(cora: Visitor, shop: LiveBench) -> None:
    """1.5 % longer with crowns as new: within the limit of 2.5 %, yet pulled beyond yield."""
    job = booked_job(shop, "STRETCHED-1")
    enter(shop, job, *(_stretched(body) for body in all_answers(shop, job)), by="cora")
    examination = facts_of(shop, job).examination
    assert examination is not None
    chain = next(part for part in examination.parts if part.part == "load_chain")
    assert chain.outcome.words == "fit"
    text = cora.get(f"/jobs/{job}").text
    line = text[text.index(f'/jobs/{job}/parts/load_chain"') :]
    line = line[: line.index("</li>")]
    assert ">fit<" not in line
    assert re.search(">(not established|renew)<", line)


def _stretched(body: ReadingEntered | LookAnswered) -> ReadingEntered | LookAnswered:
    sections = isinstance(body, ReadingEntered) and body.feature == "load_chain.gauge_length"
    if not isinstance(body, ReadingEntered) or not sections or body.place == "unworn":
        return body
    return attrs.evolve(body, values=tuple(value * 1.015 for value in body.values))
