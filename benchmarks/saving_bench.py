"""A bench with the demo shop and jobs to examine, served for a benchmark."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from contextlib import contextmanager
from multiprocessing.connection import Connection

from bench_client import visitor
from bench_live import LiveBench, made_bench
from job_scene import booked_job, facts_of, feature_values

from hoistwright.sheet.figures import usual_unit
from hoistwright.web.serving import run_bench

JOBS = 5


def serve_bench(where: str, told: Connection) -> None:
    """Serve a bench at a free port; told: port, cookie, and what there is to measure."""
    bench = made_bench(where, jobs=False)
    scene = LiveBench("", bench)
    for number in range(1, JOBS + 1):
        booked_job(scene, f"KQ-{number}")
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
