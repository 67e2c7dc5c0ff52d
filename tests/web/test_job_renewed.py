"""The job's page after the rebuild: what was renewed says so, and asks for nothing any more."""

from __future__ import annotations

import json
import re

import pytest
from bench_client import visitor
from bench_live import LiveBench, live
from browser import TABLET, accessibility_faults, opened
from job_scene import at_bench, enter
from playwright.sync_api import Browser, expect
from release_bench import READY, signing_bench

from hoistwright.job.events import StageReopened


@pytest.fixture(scope="module")
def ready(tmp_path_factory: pytest.TempPathFactory) -> LiveBench:
    bench = signing_bench(tmp_path_factory.mktemp("renewed"), READY, keys=False)
    return LiveBench("", bench)


def test_a_renewed_part_shows_as_renewed_once_the_rebuild_is_finished(
    ready: LiveBench, browser: Browser
) -> None:
    """Its verdict was of the part that is out; sign and word, not colour, say that it is new."""
    renewed = ready.bench.store.state(READY).renewed
    assert renewed
    with live(ready.bench) as running:
        context = opened(browser, TABLET, touch=True)
        page = context.new_page()
        at_bench(page, running, "cora")
        page.goto(f"{running.address}/jobs/{READY}")
        for part in renewed:
            line = page.locator(f'#parts li:has(a[href$="/{part}"])')
            expect(line.locator(".tagged")).to_have_text("renewed")
            expect(line.locator(".sign-cell .sign")).to_be_visible()
        expect(page.locator("#parts")).not_to_contain_text("renew it")
        expect(page.locator(".legend")).to_contain_text("renewed")
        shape = page.locator(f'#drawing [data-part="{renewed[0]}"]').first
        expect(shape).to_have_attribute("aria-label", re.compile(", renewed$"))
        assert accessibility_faults(page) == []
        context.close()


def test_before_the_rebuild_is_finished_it_is_still_to_be_renewed(ready: LiveBench) -> None:
    part = ready.bench.store.state(READY).renewed[0]
    ready.forget_attempts()
    enter(ready, READY, StageReopened(stage="rebuild"), by="odile")
    text = visitor(ready.bench, "cora").get(f"/jobs/{READY}").text
    assert "renew it" in text
    states = re.search(r"data-states='([^']+)'", text)
    assert states is not None
    assert json.loads(states[1]).get(part) != "renewed"
