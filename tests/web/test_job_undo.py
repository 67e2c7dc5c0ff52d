"""Taking back one's last entry on a job, whatever it was; and putting it back."""

from __future__ import annotations

import re

import pytest
from bench_client import Visitor, visitor
from bench_live import LiveBench
from job_scene import booked_job, enter
from playwright.sync_api import Page, expect

from hoistwright.job.events import LookAnswered, ReadingEntered, StageFinished

HOOK = ("top_hook", "hook.throat", "")
CRACKS = ("top_hook", "hook.cracks", "")


@pytest.fixture
def cora(shop: LiveBench) -> Visitor:
    shop.forget_attempts()
    return visitor(shop.bench, "cora")


def _look(answer: str) -> LookAnswered:
    return LookAnswered(part=CRACKS[0], feature=CRACKS[1], answer=answer)  # type: ignore[arg-type]


def _entry(who: Visitor, job: str) -> str:
    found = re.search(r'value="undo">.*?name="entry" value="([^"]+)"',
                      who.get(f"/jobs/{job}").text, re.DOTALL)  # fmt: skip
    return found[1] if found else ""


def test_a_slip_is_taken_back_and_put_back_by_touch(at_desk: Page, shop: LiveBench) -> None:
    job = booked_job(shop, "UNDO-1")
    enter(shop, job, _look("defect"), by="cora")
    at_desk.goto(f"{shop.address}/jobs/{job}")
    at_desk.get_by_role("button", name="Take back: top hook, cracks: defect").click()
    expect(at_desk.get_by_role("button", name="Put back: top hook, cracks: defect")).to_be_visible()
    assert CRACKS not in shop.bench.store.state(job).looks
    at_desk.get_by_role("button", name="Put back").click()
    expect(at_desk.get_by_role("button", name="Take back")).to_be_visible()
    assert shop.bench.store.state(job).looks[CRACKS].body == _look("defect")
    assert shop.bench.store.compare() == ()


def test_a_step_is_named_by_what_it_says(cora: Visitor, shop: LiveBench) -> None:
    job = booked_job(shop, "UNDO-9")
    cora.post(f"/jobs/{job}/strip", {"do": "tick", "way": "strip", "step": "top_latch_off",
                                     "done": "yes"})  # fmt: skip
    page = cora.get(f"/jobs/{job}").text
    assert "Take back: Drill out the rivet of the top hook latch" in page
    assert "top_latch_off: done" not in page


def test_of_a_series_the_last_figure_goes(cora: Visitor, shop: LiveBench) -> None:
    job = booked_job(shop, "UNDO-2")
    said = {"do": "reading", "part": HOOK[0], "feature": HOOK[1], "gauge": "cal-1"}
    for value in ("50.5", "55.5"):
        cora.post(f"/jobs/{job}/parts/top_hook", {**said, "value": value})
    answer = cora.post(f"/jobs/{job}", {"do": "undo", "entry": _entry(cora, job)})
    assert answer.status_code == 303
    body = shop.bench.store.state(job).readings[HOOK].body
    assert isinstance(body, ReadingEntered)
    assert body.values == pytest.approx((0.0505,))


def test_only_ones_own_last_word_is_offered(cora: Visitor, shop: LiveBench) -> None:
    """Not what somebody else said since, and never what was booked in."""
    job = booked_job(shop, "UNDO-3")
    assert _entry(cora, job) == ""
    enter(shop, job, _look("defect"), by="tim")
    assert _entry(cora, job) == ""
    enter(shop, job, _look("in order"), by="cora")
    mine = _entry(cora, job)
    assert mine
    enter(shop, job, StageFinished(stage="book in"), by="cora")
    answer = cora.post(f"/jobs/{job}", {"do": "undo", "entry": mine})
    assert answer.status_code == 422
    assert "not your last entry any more" in answer.text
