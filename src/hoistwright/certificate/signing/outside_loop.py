"""The signature library runs an event loop of its own, which cannot be within another one."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

T = TypeVar("T")


def outside_loop(work: Callable[[], T]) -> T:
    """Do it here, or on a thread of its own where an event loop runs on this one already.

    That is so in notebooks, and where a program signs from a coroutine.
    """
    try:
        asyncio.get_running_loop()
    except RuntimeError:
        return work()
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(work).result()
