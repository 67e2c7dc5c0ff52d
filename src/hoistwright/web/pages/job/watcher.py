"""Watches the journal for all open pages: one question to the record, however many tablets."""

from __future__ import annotations

import asyncio
import weakref
from collections.abc import Sequence

from starlette.concurrency import run_in_threadpool

from hoistwright.store.errors import StoreError
from hoistwright.store.model import Numbered
from hoistwright.web.bench import Bench

EVERY = 0.25
"""Seconds between two questions. Somebody else's entry must be seen within a second."""


class Watcher:
    """Wakes those who wait for a job's next entries. Runs while anybody waits."""

    def __init__(self, bench: Bench) -> None:
        self._store = bench.store
        self._waiting: dict[asyncio.Queue[Numbered], str] = {}
        self._task: asyncio.Task[None] | None = None

    def join(self, job: str) -> asyncio.Queue[Numbered]:
        """A queue of the entries of `job` from now on."""
        queue: asyncio.Queue[Numbered] = asyncio.Queue()
        self._waiting[queue] = job
        if self._task is None or self._task.done():
            self._task = asyncio.get_running_loop().create_task(self._watch())
        return queue

    def leave(self, queue: asyncio.Queue[Numbered]) -> None:
        self._waiting.pop(queue, None)

    async def _watch(self) -> None:
        number: int | None = None
        while self._waiting:
            try:
                if number is None:
                    number = (await run_in_threadpool(self._store.head)).number
                await asyncio.sleep(EVERY)
                found = await run_in_threadpool(self._store.since, number)
            except StoreError:  # away for a while: the pages say so when they send something
                await asyncio.sleep(EVERY)
                continue
            number = self._hand_out(number, found)

    def _hand_out(self, number: int, found: Sequence[Numbered]) -> int:
        for item in found:
            number = item.number
            for queue, job in self._waiting.items():
                if job == item.event.job:
                    queue.put_nowait(item)
        return number


_WATCHERS: weakref.WeakKeyDictionary[asyncio.AbstractEventLoop, dict[int, Watcher]] = (
    weakref.WeakKeyDictionary()
)


def watcher_of(bench: Bench) -> Watcher:
    """The one watcher of a bench on this event loop."""
    mine = _WATCHERS.setdefault(asyncio.get_running_loop(), {})
    return mine.setdefault(id(bench), Watcher(bench))
