"""Signed certificates, record attached, against the same pages by a general HTML-to-PDF library.

Ours: record, page, PDF/A-3 with the record attached, code, signature. Theirs: the same words in
the same tables as HTML to PDF, and nothing more: no record, no tags, no signature. Both in one
run, in turns, then both on two threads. A sample is timed and scaled to 1,000; the line says so.
Then: verifying, as a ratio to the limit of 50 ms.
"""

from __future__ import annotations

import datetime
import html
import os
import statistics
import sys
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1] / "tests/support"))

from release_scene import Scene, make_scene

from hoistwright.certificate.release.page import certificate_page
from hoistwright.certificate.release.verify import verify

SAMPLE = 8
WHOLE = 1000
AIM = 10.0
"""Times faster."""
VERIFY_LIMIT = 0.050
"""Seconds."""


def ours(scene: Scene, number: int) -> bytes:
    """One certificate, each with its own number, so that nothing can be taken from a cache."""
    return scene.issue(number=f"KQ-2026-{number:04d}").pdf


def theirs(scene: Scene, number: int) -> bytes:
    """The same words by the other library."""
    import weasyprint

    record = scene.record(number=f"KQ-2026-{number:04d}")
    page = certificate_page(record, scene.issued.code)
    made: Any = weasyprint.HTML(string=as_html(page)).write_pdf()
    assert isinstance(made, bytes)
    return made


def as_html(page: dict[str, Any]) -> str:
    """The page's data as plain HTML: headings, lines, tables, the code as a picture."""
    parts = [
        "<style>@page{size:A4;margin:19mm 16mm} body{font:9pt sans-serif} "
        "table{width:100%;border-collapse:collapse;font-size:7.8pt} "
        "td,th{border-bottom:.4pt solid #999;text-align:left;vertical-align:top}</style>",
        f"<h1>{_t(page['title'])}</h1><p>{_t(page['name'])} {_t(page['subtitle'])}</p>",
        f"<p><b>{_t(page['band']['word'])}: {_t(page['band']['big'])}</b> "
        f"{_t(page['band']['sentence'])}</p><div style='width:34mm'>{page['code']}</div>",
    ]
    for group in page["groups"]:
        parts.append(f"<h3>{_t(group['title'])}</h3>{_pairs(group['lines'])}")
    for section in page["sections"]:
        parts.append(f"<h2>{_t(section['heading'])}</h2><p>{_t(section['lead'])}</p>")
        parts += [_block(block) for block in section["blocks"]]
    return "".join([*parts, f"<p>{_t(page['end'])}</p>"])


def _block(block: dict[str, Any]) -> str:
    if block["kind"] == "lines":
        return _pairs(block["lines"])
    if block["kind"] == "table":
        head = "".join(f"<th>{_t(word)}</th>" for word in block["head"])
        rows = "".join(
            "<tr>" + "".join(f"<td>{_cell(cell)}</td>" for cell in row) + "</tr>"
            for row in block["rows"]
        )
        return f"<table><thead><tr>{head}</tr></thead>{rows}</table>"
    return f"<p><b>{_t(block.get('word', ''))}</b> {_t(block['text'])}</p>"


def _cell(cell: Any) -> str:
    words = [cell["word"]] if isinstance(cell, dict) else cell
    return "<br>".join(_t(word) for word in words)


def _pairs(lines: list[list[str]]) -> str:
    return "".join(f"<div>{_t(label)}: {_t(value)}</div>" for label, value in lines)


def _t(text: str) -> str:
    return html.escape(text)


def timed(make: Callable[[Scene, int], bytes], scene: Scene, number: int) -> tuple[float, int]:
    start = time.perf_counter()
    size = len(make(scene, number))
    return time.perf_counter() - start, size


def main() -> None:
    """Print medians, the scaled whole, and both ratios."""
    scene = make_scene()
    ours(scene, 1), theirs(scene, 1)  # imports and fonts
    mine, other = [], []
    for number in range(2, 2 + SAMPLE):
        mine.append(timed(ours, scene, number))
        other.append(timed(theirs, scene, number))
    own = statistics.median(t for t, _ in mine)
    html_pdf = statistics.median(t for t, _ in other)
    print(f"processors busy: {os.getloadavg()[0]:.1f} of {os.cpu_count()}")
    print(
        f"ours, signed, record attached: {own * 1000:.0f} ms, {mine[0][1] // 1024} KiB; "
        f"HTML to PDF, bare: {html_pdf * 1000:.0f} ms, {other[0][1] // 1024} KiB"
    )
    print(
        f"{WHOLE} certificates, scaled from a sample of {SAMPLE}: ours {own * WHOLE:.0f} s, "
        f"HTML to PDF {html_pdf * WHOLE:.0f} s; ratio {html_pdf / own:.1f} (aim {AIM:g} or more)"
    )
    two = [on_threads(make, scene) for make in (ours, theirs)]
    print(
        f"on two threads each: ours {two[0] * 1000:.0f} ms, HTML to PDF {two[1] * 1000:.0f} ms a "
        f"certificate; ratio {two[1] / two[0]:.1f}"
    )
    check(scene)


def on_threads(make: Callable[[Scene, int], bytes], scene: Scene) -> float:
    """Seconds for each certificate where two threads share the work."""
    start = time.perf_counter()
    with ThreadPoolExecutor(2) as pool:
        list(pool.map(lambda number: make(scene, number), range(100, 100 + 2 * SAMPLE)))
    return (time.perf_counter() - start) / (2 * SAMPLE)


def check(scene: Scene) -> None:
    """The ratio of one verification to its limit."""
    pdf, trust, day = scene.issued.pdf, scene.trust, datetime.date(2026, 11, 25)
    verify(pdf, trust, day)
    times = []
    for _ in range(30):
        start = time.perf_counter()
        assert verify(pdf, trust, day).valid
        times.append(time.perf_counter() - start)
    middle = statistics.median(times)
    print(
        f"verify: {middle * 1000:.1f} ms; ratio to the limit of {VERIFY_LIMIT * 1000:.0f} ms: "
        f"{middle / VERIFY_LIMIT:.2f}"
    )


if __name__ == "__main__":
    main()
