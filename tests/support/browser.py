"""Debian's Chromium under test: starting it, signing in, what its console says."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bench_live import PASSWORD
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
AXE = Path(__file__).parents[1] / "web" / "assets" / "axe.min.js"
DESK, TABLET, TELEPHONE = (1280, 800), (800, 1280), (390, 844)


@contextmanager
def chromium() -> Iterator[Browser]:
    """The browser. Not skipped where it is missing: it says what to install."""
    program = shutil.which("chromium")
    assert program, "Chromium is missing: as root, apt-get install chromium"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=list(FLAGS))
        yield browser
        browser.close()


def opened(
    browser: Browser, size: tuple[int, int] = DESK, *, touch: bool = False, language: str = "en-GB"
) -> BrowserContext:
    return browser.new_context(
        viewport={"width": size[0], "height": size[1]}, has_touch=touch, locale=language
    )


def complaints(page: Page) -> list[str]:
    """What the console complains of from now on: broken policies, failed scripts."""
    said: list[str] = []
    page.on("console", lambda m: said.append(m.text) if m.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: said.append(str(error)))
    return said


def sign_in(page: Page, address: str, name: str, password: str = PASSWORD) -> None:
    page.goto(f"{address}/sign-in")
    page.fill("#name", name)
    page.fill("#password", password)
    page.press("#password", "Enter")
    page.wait_for_load_state()


def accessibility_faults(page: Page) -> list[str]:
    """What axe finds on a page, each with its rule and the places."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("axe.run()")["violations"]
    return [
        f"{item['id']}: {item['help']} {[node['target'] for node in item['nodes']][:3]}"
        for item in found
    ]


def scrolls_sideways(page: Page) -> bool:
    return bool(page.evaluate("document.documentElement.scrollWidth > window.innerWidth"))
