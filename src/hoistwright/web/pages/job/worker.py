"""The service worker: keeps a job's pages at hand while there is no connection."""

from __future__ import annotations

import functools
import hashlib

from starlette.responses import Response

from hoistwright import __version__
from hoistwright.web.page import Page
from hoistwright.web.templating import folder, static
from hoistwright.web.visit import Visit

SCRIPTS = (
    "job.js", "job-prove.js", "job-queue.js", "job-forms.js", "job-live.js", "job-drawing.js",
    "job-page.js",
)  # fmt: skip
STYLES = ("bench.css", "job.css", "job-prove.css", "renew.css")
ALONE = ("job.js", "job-prove.js")
"""Scripts that a page names itself; the others are fetched by them."""


def show(visit: Visit) -> Response:
    """Served under /jobs/, so that it reaches no further than the pages of jobs."""
    return Response(
        _text(),
        media_type="text/javascript",
        headers={"cache-control": "no-cache", "service-worker-allowed": "/jobs/"},
    )


@functools.cache
def _text() -> str:
    text = (folder("static") / "job-worker.js").read_text(encoding="utf-8")
    names = (*STYLES, *SCRIPTS)
    assets = [static(name) for name in (*STYLES, *ALONE, "mark.svg")]
    assets += [f"/static/{name}" for name in SCRIPTS if name not in ALONE]
    contents = b"".join((folder("static") / name).read_bytes() for name in names)
    version = f"{__version__}-{hashlib.sha256(contents + text.encode()).hexdigest()[:12]}"
    listed = ", ".join(f'"{asset}"' for asset in assets)
    return text.replace('"VERSION"', f'"{version}"').replace("/* ASSETS */", listed)


PAGES = (Page(name="job-worker", path="/jobs/worker.js", show=show, open=True),)
