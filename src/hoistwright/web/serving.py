"""Starting the bench: its database, its shop, the link for the first administrator."""

from __future__ import annotations

import atexit
import contextlib
import gc
import shutil
import socket
import tempfile
import threading
from pathlib import Path

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.job.shop import Shop
from hoistwright.store.connect import checkpoint, reading, writing
from hoistwright.store.errors import StoreError
from hoistwright.store.sql_store import open_store
from hoistwright.web.bases import take_folder
from hoistwright.web.bench import Bench, open_bench
from hoistwright.web.records.accounts import administrators, all_accounts
from hoistwright.web.records.invitations import FIRST, invite
from hoistwright.web.records.settings import setting
from hoistwright.web.records.shop_records import import_shop, shop_of


def start_bench(
    where: str | Path,
    *,
    shop: Path | None = None,
    demo: bool = False,
    bases: Path | None = None,
    keys: Path | None = None,
    keys_passphrase: str = "",
) -> Bench:
    """Open the bench on a database. The shop file is taken over at the first start only.

    `bases` is a folder of bases of the shop's own, which are taken over as they stand now.
    `keys` is the folder of the shop's signing keys; `keys_passphrase` opens the shop's own.

    Raises FaultsError for a shop file that cannot be used, StoreError, ValueError.
    """
    store = open_store(where)
    folder = Path(tempfile.mkdtemp(prefix="hoistwright-designs-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    bench = open_bench(
        store,
        designs_folder=folder,
        demo=demo,
        keys_folder=keys,
        keys_passphrase=keys_passphrase,
    )
    with writing(bench.engine) as conn:
        if shop is not None and not setting(conn, "shop name"):
            import_shop(conn, shop)
    if bases is not None:
        take_folder(bench, bases)
    return bench


def run_bench(bench: Bench, port: socket.socket) -> None:
    """Answer at a port that is taken already, until somebody stops it (KeyboardInterrupt)."""
    import uvicorn

    from hoistwright.web.app import bench_app

    config = uvicorn.Config(
        bench_app(bench), log_level="warning", server_header=False, timeout_graceful_shutdown=3
    )
    stopped = threading.Event()
    threading.Thread(target=_tidy, args=(bench, stopped), daemon=True).start()
    threading.Thread(target=_know_fleet, args=(bench,), daemon=True).start()
    settle_memory()
    try:
        uvicorn.Server(config).run(sockets=[port])
    finally:
        stopped.set()


TIDIED = 5.0
"""Seconds between two times that SQLite's log is taken into its file."""


def _tidy(bench: Bench, stopped: threading.Event) -> None:
    """Take SQLite's log into its file beside the work, so that nobody's entry waits for it."""
    while not stopped.wait(TIDIED):
        with contextlib.suppress(StoreError):  # the next entry says what is wrong
            checkpoint(bench.engine)


def _know_fleet(bench: Bench) -> None:
    """Register and fleet before somebody asks for them: they take seconds where nothing is kept."""
    from hoistwright.web.records.issued import register_of
    from hoistwright.web.whole_fleet import whole_fleet

    with contextlib.suppress(Exception):  # the page that asks says what is wrong
        register_of(bench.engine)
        whole_fleet(bench)


def settle_memory() -> None:
    """What is loaded by now stays: looking through it for garbage would make an answer wait."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 100)


def shop_in(where: str) -> Shop:
    """The shop as the record of a bench has it. Raises FaultsError where there is no such file."""
    if "://" not in where and not Path(where).is_file():
        raise FaultsError([Fault(Place(file=where), "no such file", "the record of a bench")])
    store = open_store(where)
    try:
        with reading(store.engine) as conn:
            return shop_of(conn)
    finally:
        store.close()


def first_link(bench: Bench) -> str:
    """The path of a one-time link that makes an administrator; empty where there is one."""
    with reading(bench.engine) as conn:
        if administrators(all_accounts(conn)):
            return ""
    with writing(bench.engine) as conn:
        return f"/first/{invite(conn, FIRST, bench.now())}"
