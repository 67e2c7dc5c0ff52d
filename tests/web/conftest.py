"""One browser, one running bench with the demo shop; and a client without a browser."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from bench_live import LiveBench, live, made_bench
from browser import chromium, complaints, opened, sign_in
from playwright.sync_api import Browser, Page

from hoistwright.web.security import secrets


@pytest.fixture(scope="session", autouse=True)
def _quick_hashes() -> Iterator[None]:
    """The same hash with little work: what takes long is not what is tested here."""
    quick = PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)
    patch = pytest.MonkeyPatch()
    patch.setattr(secrets, "hasher", lambda: quick)
    yield
    patch.undo()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with chromium() as started:
        yield started


@pytest.fixture(scope="session")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LiveBench]:
    """A bench with people and the demo jobs, shared by tests that leave it as it was."""
    with live(made_bench(tmp_path_factory.mktemp("bench"))) as running:
        yield running


@pytest.fixture
def fresh(tmp_path: Path) -> Iterator[LiveBench]:
    """A bench that nobody has used: no account with a password, no job."""
    with live(made_bench(tmp_path, people=False, jobs=False)) as running:
        yield running


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page on a desk. At the end its console must have had nothing to complain of."""
    context = opened(browser)
    made = context.new_page()
    said = complaints(made)
    yield made
    context.close()
    assert not [text for text in said if "Content Security Policy" in text or "Error:" in text]


@pytest.fixture
def at_desk(page: Page, shop: LiveBench) -> Page:
    """Signed in as somebody who may do all but administer."""
    shop.forget_attempts()
    sign_in(page, shop.address, "cora")
    return page
