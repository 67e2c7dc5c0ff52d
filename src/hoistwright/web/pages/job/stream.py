"""What others enter, told to every open page of a job as it comes (server-sent events)."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from hoistwright.job.entry import Event
from hoistwright.web.endpoint import arrive
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import case_of
from hoistwright.web.pages.job.watcher import watcher_of
from hoistwright.web.visit import Visit

QUIET = 15.0
"""Seconds without entries after which a sign of life is sent, and the session looked at."""


async def show(visit: Visit) -> Response:
    case = await run_in_threadpool(case_of, visit)
    return StreamingResponse(
        _tell(visit, case.job, _after(visit, case.state.seq)),
        media_type="text/event-stream",
        headers={"cache-control": "no-store", "x-accel-buffering": "no"},
    )


def _after(visit: Visit, seq: int) -> int:
    """From which entry on: the browser says what it had, else the page says what stood on it."""
    said = visit.request.headers.get("last-event-id", "") or visit.query("after")
    return min(int(said), seq) if said.isascii() and said.isdigit() and len(said) < 10 else seq


async def _tell(visit: Visit, job: str, after: int) -> AsyncIterator[str]:
    watcher = watcher_of(visit.bench)
    queue = watcher.join(job)
    try:
        yield "retry: 1000\n\n"
        for event in await run_in_threadpool(visit.bench.store.events, job, after=after):
            after = event.seq
            yield _message(event)
        while True:
            try:
                event = (await asyncio.wait_for(queue.get(), QUIET)).event
            except TimeoutError:
                if not await _still_here(visit.request):
                    yield "event: signed-out\ndata: {}\n\n"
                    return
                yield ": quiet\n\n"
                continue
            if event.seq > after:
                after = event.seq
                yield _message(event)
    finally:
        watcher.leave(queue)


def _message(event: Event) -> str:
    told = {"seq": event.seq, "id": event.id, "by": event.by, "kind": event.kind}
    return f"id: {event.seq}\nevent: entry\ndata: {json.dumps(told)}\n\n"


async def _still_here(request: Request) -> bool:
    """Whether whoever opened the page is still signed in."""
    return (await arrive(request)).account is not None


PAGES = (Page(name="job-stream", path="/jobs/{job}/stream", show=show),)
