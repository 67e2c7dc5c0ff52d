"""Renewals and quote at the bench: a chain that will not last, a price, and what is agreed."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from bench_client import Visitor, visitor
from bench_live import LiveBench, live, made_bench
from browser import DESK, TABLET, TELEPHONE, accessibility_faults, opened, scrolls_sideways
from job_scene import at_bench, enter, facts_of, stage_of
from playwright.sync_api import Browser, expect

from hoistwright.demo.bench_jobs import fill_demo
from hoistwright.job.events import PartChosen, StageReopened
from hoistwright.job.events_quote import QuoteAnswered, QuoteMade
from hoistwright.store.connect import writing
from hoistwright.web.pages.job import quote
from hoistwright.web.pages.job.quote_paper import made_quote, quotes_of
from hoistwright.web.records.settings import keep_setting

WEARING = "A2-13570"
"""Serial number of the demo's hoist whose chain is fit today and will not last."""


@pytest.fixture(scope="module")
def history(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LiveBench]:
    """A bench whose hoists have been in before, so that there is a forecast."""
    bench = made_bench(tmp_path_factory.mktemp("history"), jobs=False)
    fill_demo(bench, hoists=4)
    with live(bench) as running:
        yield running


def wearing(shop: LiveBench) -> str:
    """The job of that hoist which is at its renewals."""
    return next(line.job for line in shop.bench.store.jobs(stage="renew") if line.serial == WEARING)


@pytest.fixture
def cora(shop: LiveBench) -> Visitor:
    shop.forget_attempts()
    return visitor(shop.bench, "cora")


def entered(visit: Visitor, path: str, **fields: str | list[str]) -> int:
    return visit.post(path, {"id": f"test-{next(_IDS)}-form", **fields}).status_code


_IDS = iter(range(1000, 9999))


# what pays


def test_a_chain_that_will_not_last_is_shown_with_picture_and_price(
    history: LiveBench, browser: Browser
) -> None:
    """The page says that it is fit, how far it has come, and what leaving it costs on average."""
    context = opened(browser, TABLET, touch=True)
    page = context.new_page()
    at_bench(page, history, "cora")
    job = wearing(history)
    page.goto(f"{history.address}/jobs/{job}/renew")
    row = page.locator("#part-load_chain")
    expect(row).to_contain_text("fit")
    expect(row).to_contain_text("the chance of reaching it before the next visit is about")
    expect(row.locator(".wearplot svg title")).to_have_text(re.compile("load chain"))
    now, leaving = _amounts(row.locator(".ahead").inner_text())
    assert leaving > now > 0
    must, best = page.locator(".total .amount").all_inner_texts()
    assert _amount(best) - _amount(must) == pytest.approx(now)
    row.get_by_role("button", name="Renew it").tap()
    expect(row.locator(".answer[aria-pressed=true]")).to_be_visible()
    expect(page.locator(".totals")).to_contain_text("As chosen so far")
    # chosen, it still says why, at what risk and what leaving it costs
    expect(row).to_contain_text("the chance of reaching it before the next visit is about")
    assert _amounts(row.locator(".ahead").inner_text()) == (now, leaving)
    page.goto(f"{history.address}/jobs/{job}/quote")
    page.get_by_role("button", name="Make the quote").tap()
    expect(page.locator(".quotelist")).to_contain_text(f"{job}-Q1")
    pdf = page.request.get(f"{history.address}/jobs/{job}/quotes/{job}-Q1").body()
    words = pypdfium2.PdfDocument(io.BytesIO(pdf))[0].get_textpage().get_text_range()
    assert "the chance of reaching it" in " ".join(words.split())
    assert "Readings at each visit" in words  # with the picture of the wear on paper, too
    assert history.bench.store.state(job).renewed == ("load_chain",)
    context.close()


def _amount(text: str) -> float:
    return float(re.sub(r"[^\d.]", "", text))


def _amounts(text: str) -> tuple[float, float]:
    found = re.search(r"costs GBP.([\d,.]+) on average; renewed now.*?GBP.([\d,.]+)\.", text)
    assert found is not None, text
    return _amount(found[2]), _amount(found[1])


def test_who_quotes_takes_no_reading_back(shop: LiveBench) -> None:
    """The counter books in and quotes; what a technician read is not theirs."""
    state = shop.bench.store.state("KQ-0403")
    entry = next(iter(state.readings.values()))
    answer = visitor(shop.bench, "kim").post(
        "/jobs/KQ-0403/quote", {"do": "withdraw", "id": "test-counter-1", "entry": entry.last.id}
    )
    assert answer.status_code == 422
    assert "Only a quote and its answer" in answer.text
    assert shop.bench.store.state("KQ-0403").readings == state.readings


@pytest.mark.parametrize("size", [DESK, TABLET, TELEPHONE], ids=["desk", "tablet", "telephone"])
def test_renewals_and_quote_are_accessible_and_fit(
    history: LiveBench, browser: Browser, size: tuple[int, int]
) -> None:
    context = opened(browser, size)
    page = context.new_page()
    at_bench(page, history, "cora")
    faults: list[str] = []
    for job in (wearing(history), "KQ-0403"):
        for path in ("/renew", "/quote"):
            page.goto(f"{history.address}/jobs/{job}{path}")
            faults += [f"{job}{path}: {fault}" for fault in accessibility_faults(page)]
            faults += [f"{job}{path}: wider than the screen"] if scrolls_sideways(page) else []
    assert faults == []
    low = page.evaluate(
        """() => [...document.querySelectorAll('button, .button, select, .choice, summary')]
           .filter(e => e.offsetParent && e.getBoundingClientRect().height < 55.5)
           .map(e => e.outerHTML.slice(0, 90))"""
    )
    context.close()
    assert low == []


def test_what_risks_next_to_nothing_stands_in_a_short_list(
    history: LiveBench, browser: Browser
) -> None:
    context = opened(browser, DESK)
    page = context.new_page()
    at_bench(page, history, "cora")
    page.goto(f"{history.address}/jobs/{wearing(history)}/renew")
    short = page.get_by_text("less than 1 % likely each")
    expect(short).to_be_visible()
    short.click()
    expect(page.locator("details[open] tbody tr").first).to_be_visible()
    context.close()


# quote and answer


def test_a_quote_is_made_kept_and_answered_by_touch(history: LiveBench, browser: Browser) -> None:
    context = opened(browser, TABLET, touch=True)
    page = context.new_page()
    at_bench(page, history, "kim")  # the counter makes quotes
    job = "KQ-0403"
    page.goto(f"{history.address}/jobs/{job}/quote")
    page.get_by_text("Français", exact=True).tap()
    page.get_by_role("button", name="Make the quote").tap()
    expect(page.locator(".quotelist")).to_contain_text(f"{job}-Q1")
    state = history.bench.store.state(job)
    assert state.quoted is not None
    assert state.quoted.must == ("bottom_hook", "load_chain")
    pdf = page.request.get(f"{history.address}/jobs/{job}/quotes/{job}-Q1").body()
    assert "Devis" in pypdfium2.PdfDocument(io.BytesIO(pdf))[0].get_textpage().get_text_range()
    assert stage_of(history, job) == "renew"
    page.fill("#said_by", "Ms Ward, quarry office")
    page.get_by_text("by telephone").tap()
    ticked = page.locator("#answer-form [name=agreed]:checked")
    assert [box.get_attribute("value") for box in ticked.all()] == ["bottom_hook", "load_chain"]
    page.get_by_role("button", name="Agreed as ticked").tap()
    expect(page.locator(".answered")).to_contain_text("load chain: agreed")
    expect(page.locator("#answer a.great")).to_be_visible()  # where it goes on
    answer = history.bench.store.state(job).answered
    assert answer is not None
    assert (answer.said_by, answer.how) == ("Ms Ward, quarry office", "by telephone")
    assert set(history.bench.store.state(job).renewed) == {"bottom_hook", "load_chain"}
    context.close()


def test_a_declined_must_says_that_the_hoist_goes_back_unrepaired(
    shop: LiveBench, cora: Visitor
) -> None:
    job = "KQ-0402"
    enter(shop, job, StageReopened(stage="renew"), by="cora")
    assert entered(cora, f"/jobs/{job}/quote", do="quote", language="en", paper="a4") == 303
    assert "has no answer yet" in cora.get(f"/jobs/{job}/renew").text
    number = _quoted(shop, job).number
    answer = {"do": "answer", "quote": number, "said_by": "A. Loft", "how": "in writing"}
    assert entered(cora, f"/jobs/{job}/quote", **answer) == 422  # nothing ticked is asked back
    assert entered(cora, f"/jobs/{job}/quote", **answer, all="nothing") == 303
    text = cora.get(f"/jobs/{job}/quote").text
    assert "the hoist can only be returned unrepaired" in text
    chosen = shop.bench.store.state(job).choices["load_chain"].body
    assert isinstance(chosen, PartChosen)
    assert not chosen.renew
    assert number in chosen.reason
    assert "customer declined it" in cora.get(f"/jobs/{job}/renew").text
    # the customer thinks again
    assert entered(cora, f"/jobs/{job}/quote", **answer, all="must") == 303
    assert "can only be returned unrepaired" not in cora.get(f"/jobs/{job}/quote").text
    assert shop.bench.store.state(job).renewed == ("load_chain",)


def test_an_answer_is_taken_back_and_put_back_with_all_of_its_choices(
    shop: LiveBench, cora: Visitor
) -> None:
    """Half of an answer is none: the customer never said it."""
    job = "KQ-0403"
    path = f"/jobs/{job}/quote"
    before = dict(shop.bench.store.state(job).choices)
    assert entered(cora, path, do="quote", language="en", paper="a4") == 303
    number = _quoted(shop, job).number
    said = {"do": "answer", "quote": number, "said_by": "A. Loft", "how": "in writing"}
    assert entered(cora, path, **said, agreed=["bottom_hook", "load_chain"]) == 303
    assert set(shop.bench.store.state(job).renewed) == {"bottom_hook", "load_chain"}
    assert f"Take back: the customer&#39;s answer to {number}" in cora.get(f"/jobs/{job}").text
    assert entered(cora, f"/jobs/{job}", do="undo", entry=_offered(cora, job)) == 303
    state = shop.bench.store.state(job)
    assert state.answered is None
    assert state.choices == before
    assert entered(cora, f"/jobs/{job}", do="undo", entry=_offered(cora, job)) == 303
    state = shop.bench.store.state(job)
    assert state.answered is not None
    assert set(state.renewed) == {"bottom_hook", "load_chain"}
    # by the button of the quote's own page, too: the counter has no other one
    answer = state.by_topic[(QuoteAnswered.kind,)].event.id
    kim = visitor(shop.bench, "kim")
    assert "Take the answer back" in kim.get(path).text
    assert entered(kim, path, do="withdraw", entry=answer) == 303
    assert shop.bench.store.state(job).answered is None
    assert shop.bench.store.state(job).choices == before
    assert shop.bench.store.compare() == ()


def _offered(who: Visitor, job: str) -> str:
    """The entry that this person's pages offer to take back."""
    found = re.search(r'value="undo">.*?name="entry" value="([^"]+)"',
                      who.get(f"/jobs/{job}").text, re.DOTALL)  # fmt: skip
    assert found is not None
    return found[1]


def test_a_new_quote_asks_for_a_new_answer_and_the_old_one_stays(
    shop: LiveBench, cora: Visitor
) -> None:
    job = "KQ-0405"
    for _ in range(2):
        assert entered(cora, f"/jobs/{job}/quote", do="quote", language="en", paper="a4") == 303
    kept = [e.body for e in shop.bench.store.state(job).entries.values()
            if isinstance(e.body, QuoteMade)]  # fmt: skip
    assert [body.number for body in kept] == [f"{job}-Q1", f"{job}-Q2"]
    assert _quoted(shop, job).number == f"{job}-Q2"
    for body in kept:
        assert cora.get(f"/jobs/{job}/quotes/{body.number}").content.startswith(b"%PDF")
    assert cora.get(f"/jobs/{job}/quotes/nothing").status_code == 404
    assert cora.get(f"/jobs/KQ-0404/quotes/{job}-Q1").status_code == 404
    old = {"do": "answer", "quote": f"{job}-Q1", "said_by": "x", "how": "in writing", "all": "must"}
    assert entered(cora, f"/jobs/{job}/quote", **old) == 422


def test_a_quote_taken_back_stays_in_the_journal_and_asks_for_nothing(
    shop: LiveBench, cora: Visitor
) -> None:
    job = "KQ-0407"
    path = f"/jobs/{job}/quote"
    assert "The examination is not finished" in cora.get(path).text
    assert entered(cora, path, do="quote", language="en", paper="a4") == 303
    entry = shop.bench.store.state(job).by_topic[(QuoteMade.kind,)]
    assert entered(cora, path, do="something else") == 422
    assert entered(cora, path, do="withdraw", entry=entry.event.id) == 303
    state = shop.bench.store.state(job)
    assert state.quoted is None
    assert entry.event.id in state.entries
    assert "has no answer yet" not in cora.get(f"/jobs/{job}/renew").text
    assert entered(cora, path, do="quote", language="en", paper="a4") == 303
    assert _quoted(shop, job).number == f"{job}-Q2"  # no number is given twice


def test_a_form_sent_twice_makes_one_quote(shop: LiveBench, cora: Visitor) -> None:
    job = "KQ-0406"
    form = {"do": "quote", "language": "en", "paper": "a4", "id": "twice-sent-form"}
    for _ in range(2):
        assert cora.post(f"/jobs/{job}/quote", form).status_code == 303
    bodies = [e.body for e in shop.bench.store.state(job).entries.values()]
    assert sum(isinstance(body, QuoteMade) for body in bodies) == 1


def test_a_day_that_has_passed_and_an_answer_of_nobody_are_asked_back(
    shop: LiveBench, cora: Visitor
) -> None:
    path = "/jobs/KQ-0404/quote"
    late = cora.post(path, {"do": "quote", "language": "en", "paper": "a4",
                            "valid_until": "2020-01-01", "id": "late-quote-1"})  # fmt: skip
    assert late.status_code == 422
    assert "This day has passed." in late.text
    assert 'value="2020-01-01"' in late.text  # what was typed is kept
    assert entered(cora, path, do="quote", language="en", paper="a4") == 303
    nobody = cora.post(path, {"do": "answer", "quote": "KQ-0404-Q1", "how": "in writing",
                              "all": "must", "id": "nobody-said-1", "said_by": ""})  # fmt: skip
    assert nobody.status_code == 422
    assert "Say who answered" in nobody.text
    assert not any(isinstance(e.body, QuoteAnswered)
                   for e in shop.bench.store.state("KQ-0404").entries.values())  # fmt: skip


def test_who_only_reads_makes_no_quote(shop: LiveBench) -> None:
    shop.forget_attempts()
    ron = visitor(shop.bench, "ron")
    assert ron.get("/jobs/KQ-0403/quote").status_code == 200
    assert entered(ron, "/jobs/KQ-0403/quote", do="quote", language="en", paper="a4") == 403


def test_a_shop_without_charges_decides_as_before(tmp_path: Path) -> None:
    bench = made_bench(tmp_path)
    with writing(bench.engine) as conn:
        keep_setting(conn, "charges", "")
    cora = visitor(bench, "cora")
    page = cora.get("/jobs/KQ-0403/renew").text
    assert "nothing is priced" in page
    assert "Must be renewed" in page
    kit = page.split("Kit</h2>")[1]
    assert "GBP" not in kit
    assert "bottom hook" in kit
    assert cora.get("/jobs/KQ-0403/quote").status_code == 409
    bench.store.close()


def test_french_pages_have_no_english_sentence(history: LiveBench, browser: Browser) -> None:
    context = opened(browser, TABLET, language="fr-FR")
    page = context.new_page()
    at_bench(page, history, "tim")
    page.goto(f"{history.address}/me")
    page.get_by_text("Français", exact=True).click()
    page.get_by_role("button", name="Keep").first.click()
    expect(page.locator("html")).to_have_attribute("lang", "fr")
    text = ""
    for path in ("/renew", "/quote"):
        page.goto(f"{history.address}/jobs/{wearing(history)}{path}")
        text += page.locator("main").inner_text()
    context.close()
    left = re.findall(r"[^.\n]*\b(?:the|with|until|which|renew(?:ed)?|what)\b[^.\n]*", text)
    assert left == []


def _quoted(shop: LiveBench, job: str) -> QuoteMade:
    quoted = facts_of(shop, job).state.quoted
    assert quoted is not None
    return quoted


def test_the_demo_has_a_quote_that_waits_for_its_answer(history: LiveBench) -> None:
    history.forget_attempts()
    cora = visitor(history.bench, "cora")
    assert "KQ-0402-Q1 has no answer yet" in cora.get("/jobs/KQ-0402/renew").text
    paper = cora.get("/jobs/KQ-0402/quotes/KQ-0402-Q1")
    assert paper.content.startswith(b"%PDF")
    assert history.bench.store.verify() == ()


def test_two_who_quote_at_once_do_not_make_one_number(
    shop: LiveBench, cora: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While one paper is being made, somebody else's quote is entered."""
    job, path = "KQ-0403", "/jobs/KQ-0403/quote"

    def slowly(*words: Any, **named: Any) -> QuoteMade:
        body = made_quote(*words, **named)
        enter(shop, job, body, by="tim")
        return body

    before = len(quotes_of(shop.bench.store.state(job)))
    with monkeypatch.context() as patched:
        patched.setattr(quote, "made_quote", slowly)
        assert entered(cora, path, do="quote", language="en", paper="a4") == 409
    numbers = [e.body.number for e in quotes_of(shop.bench.store.state(job))]  # type: ignore[union-attr]
    assert len(numbers) == len(set(numbers)) == before + 1


def test_an_id_that_no_journal_can_hold_is_refused(cora: Visitor) -> None:
    fields = {"do": "quote", "language": "en", "paper": "a4", "id": "no id!"}
    answer = cora.post("/jobs/KQ-0403/quote", fields)
    assert answer.status_code == 422
    assert "the id" in answer.text
