"""A bench that really runs, for a browser or an HTTP client to visit."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import attrs
import uvicorn

from hoistwright.demo.bench_jobs import fill_demo
from hoistwright.demo.shop_files import demo_folder
from hoistwright.store.connect import writing
from hoistwright.web.app import bench_app
from hoistwright.web.bench import Bench
from hoistwright.web.records.accounts import Account, AccountRole, add_account
from hoistwright.web.records.tables import attempts
from hoistwright.web.security.secrets import hashed
from hoistwright.web.serving import start_bench

PASSWORD = "kelp rope anvil"
PIN = "4711"
PEOPLE: tuple[tuple[str, str, tuple[AccountRole, ...]], ...] = (
    ("ada", "Ada Boss", ("administrator",)),
    ("cora", "Cora Competent", ("technician", "competent person")),
    ("tim", "Tim Tech", ("technician",)),
    ("kim", "Kim Counter", ("counter",)),
    ("ron", "Ron Reader", ("read-only",)),
)


@attrs.frozen
class LiveBench:
    address: str
    bench: Bench

    def forget_attempts(self) -> None:
        """Failures of an earlier test must not lock a later one out."""
        with writing(self.bench.engine) as conn:
            conn.execute(attempts.delete())


def made_bench(where: Path | str, *, people: bool = True, jobs: bool = True) -> Bench:
    """A bench with the demo shop, in a folder or at an address of a database.

    `people` can sign in by PASSWORD.
    """
    db = where / "bench.db" if isinstance(where, Path) else where
    bench = start_bench(db, shop=demo_folder() / "shop.toml", demo=True)
    if people:
        secret, pin = hashed(PASSWORD), hashed(PIN)
        with writing(bench.engine) as conn:
            for key, name, roles in PEOPLE:
                account = Account(key=key, name=name, roles=roles, password=secret, pin=pin)
                add_account(conn, account)
    if jobs:
        fill_demo(bench)
    return bench


@contextmanager
def live(bench: Bench) -> Iterator[LiveBench]:
    """The bench at a free port of this machine."""
    with socket.socket() as bound:
        bound.bind(("127.0.0.1", 0))
        bound.listen(128)
        port = bound.getsockname()[1]
        server = uvicorn.Server(
            uvicorn.Config(bench_app(bench), log_level="critical", lifespan="off",
                           timeout_graceful_shutdown=1)
        )  # fmt: skip
        thread = threading.Thread(target=server.run, kwargs={"sockets": [bound]}, daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.01)
        yield LiveBench(f"http://localhost:{port}", bench)
        server.should_exit = True
        thread.join(10)
    bench.store.close()
