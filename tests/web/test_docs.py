"""The documents name every page of the bench, and no address that there is not."""

from __future__ import annotations

import re
from pathlib import Path

from hoistwright.web.pages import all_pages

DOCS = Path(__file__).parents[2] / "docs"
TEXT = "".join((DOCS / name).read_text(encoding="utf-8") for name in ("bench.md", "bench-job.md"))
TOLD = {
    re.sub(r"<\w+>", "<>", address)
    for row in re.findall(r"^\| (`/[^|]*) \|", TEXT, re.M)
    for address in re.findall(r"`([^`]+)`", row)
}


def test_every_page_has_its_row() -> None:
    """The row of a page speaks for what lies below it, too: its papers, its forms."""
    lacking = []
    for page in all_pages():
        path = re.sub(r"\{\w+\}", "<>", page.path)
        whole = [told for told in TOLD if told not in ("/", "/jobs/<>")]
        if path not in TOLD and not any(path.startswith(told.rstrip("…")) for told in whole):
            lacking.append(page.path)
    assert lacking == []


def test_every_row_has_its_page() -> None:
    paths = {re.sub(r"\{\w+\}", "<>", page.path) for page in all_pages()}
    named = {told for told in TOLD if "…" not in told} - {"/register/shop-certificate.pem"}
    assert named - paths == set()
