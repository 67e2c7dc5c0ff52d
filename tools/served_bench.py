"""A bench with the demo shop and jobs to examine, in a process of its own, for figures."""

from __future__ import annotations

import multiprocessing
import socket
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from multiprocessing.connection import Connection
from typing import Any

from bench_client import visitor
from bench_live import LiveBench, made_bench
from job_scene import all_answers, booked_job, enter, facts_of, feature_values

from hoistwright.sheet.figures import usual_unit
from hoistwright.web.serving import run_bench

JOBS = 5


Measure = tuple[str, str, str, str, str]
"""Part, feature, place, unit, and the figure of a sound hoist as a caliper types it."""


@contextmanager
def served(
    where: str, jobs: int = JOBS, *, examined: bool = False
) -> Iterator[tuple[int, str, Sequence[Measure]]]:
    """A bench that runs: its port, the cookie of somebody signed in, what there is to measure."""
    with running(serve_bench, where, jobs, examined) as told:
        yield told


@contextmanager
def running(serve: Callable[..., None], *words: object) -> Iterator[Any]:
    """A server in a process of its own; what it tells once it listens."""
    mine, its = multiprocessing.Pipe()
    process = multiprocessing.get_context("spawn").Process(target=serve, args=(its, *words))
    process.start()
    its.close()  # so that a server that fails is heard of
    try:
        yield mine.recv()
    finally:
        process.terminate()
        process.join(20)


def serve_bench(told: Connection, where: str, jobs: int = JOBS, examined: bool = False) -> None:
    """Serve a bench at a free port; told: port, cookie, and what there is to measure.

    Where `examined`, everything of the jobs is looked at and measured already.
    """
    bench = made_bench(where, jobs=False)
    scene = LiveBench("", bench)
    for number in range(1, jobs + 1):
        booked_job(scene, f"KQ-{number}")
        if examined:
            enter(scene, f"KQ-{number}", *all_answers(scene, f"KQ-{number}"), by="cora")
    figures = feature_values(scene, "KQ-1")
    found = [
        (*point.address, usual_unit(point.dimension, "mm"), figures[point.address])
        for point in facts_of(scene, "KQ-1").points
        if point.address in figures
    ]
    client = visitor(bench, "cora").client
    cookie = "; ".join(f"{name}={value}" for name, value in client.cookies.items())
    with free_port() as port:
        told.send((port.getsockname()[1], cookie, found))
        run_bench(bench, port)


@contextmanager
def free_port() -> Iterator[socket.socket]:
    # the protocol is named, else asyncio leaves Nagle's delay on and every answer waits 40 ms
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP) as bound:
        bound.bind(("127.0.0.1", 0))
        bound.listen(128)
        yield bound
