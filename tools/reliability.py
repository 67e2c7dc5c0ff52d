"""The reliability figures of the record and the bench, on both databases: some 15 minutes.

    python tools/reliability.py [--kills 1000] [--harms 10000] [--seconds 60] [--attacks 40]
        [--only kills|harms|disk|tablets|attack]

Kills: a writer killed with signal 9 at a random moment under load; what it acknowledged must be
there. Harms: random flips, deletions, swaps, forgeries in stored journals and exports; each
must be found, with an entry that was hit named. Disk (as root): full and read-only. Tablets: fifty
at once entering readings, each answered and nothing lost. Attack: anything at all sent to every
route of the bench, from its own description; it must never fail.
Ends with 1 where anything was lost or not found.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.append(str(Path(__file__).parents[1] / "tests/support"))

from file_harm import harm_export, harm_file
from killed_writer import JOBS, kill_once, lost
from rich.progress import track
from scratch_postgresql import ScratchServer
from small_disk import full_postgresql, full_sqlite, read_only_sqlite
from tablets import tablets
from tamper import HARMS, harm, named

from hoistwright.job.entry import Draft
from hoistwright.job.events import Body, BookedIn, LookAnswered, ReadingEntered
from hoistwright.job.job_sheet import Customer, HoistIdentity
from hoistwright.store.sql_store import SqlStore, open_store

KILLS_A_RECORD = 100
"""After so many kills a fresh record is begun, so that reading it back stays quick."""


def main() -> int:
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    words.add_argument("--kills", type=int, default=1000)
    words.add_argument("--harms", type=int, default=10_000)
    words.add_argument("--seconds", type=float, default=60.0)
    words.add_argument("--pause", type=float, default=2.0, help="between two readings of a tablet")
    words.add_argument("--attacks", type=int, default=40)
    words.add_argument("--only", choices=("kills", "harms", "disk", "tablets", "attack"))
    asked = words.parse_args()
    folder = Path(tempfile.mkdtemp(prefix="hoistwright-reliability-"))
    server = ScratchServer()
    sound = True
    try:
        fresh: dict[str, Callable[[], str]] = {
            "SQLite": lambda: str(folder / f"shop-{time.monotonic_ns()}.db"),
            "PostgreSQL": server.fresh,
        }
        if asked.only in (None, "kills"):
            for name, place in fresh.items():
                sound &= kills(name, place, asked.kills)
            sound &= server_kills(server, max(1, asked.kills // 50))
        if asked.only in (None, "harms"):
            sound &= harms(fresh, folder, asked.harms)
        if asked.only in (None, "disk"):
            sound &= disks(server)
        if asked.only in (None, "tablets"):
            for name, place in fresh.items():
                sound &= tablets(name, place(), seconds=asked.seconds, pause=asked.pause)
        if asked.only in (None, "attack"):
            sound &= attacked(folder, asked.attacks)
    finally:
        server.close()
        shutil.rmtree(folder, ignore_errors=True)
    print("All held." if sound else "SOMETHING DID NOT HOLD.")
    return 0 if sound else 1


def kills(name: str, fresh: Callable[[], str], count: int) -> bool:
    rng, gone, acknowledged, sound = random.Random(1), 0, 0, True
    address = told = None
    for at in track(range(count), f"{name}: kill -9"):
        if at % KILLS_A_RECORD == 0:
            sound &= _whole(address)
            address, told = fresh(), list[str]()
            open_store(address).close()
        assert address is not None and told is not None
        heard = kill_once(address, rng, longest=0.08)
        acknowledged += len(heard)
        told += heard
        gone += len(lost(address, told, JOBS))
    sound &= _whole(address)
    print(f"{name}: {count} kills, {acknowledged} entries acknowledged, {gone} lost; journal and "
          f"tables {'sound' if sound else 'DAMAGED'}")  # fmt: skip
    return sound and gone == 0


def _whole(address: str | None) -> bool:
    if address is None:
        return True
    store = open_store(address)
    sound = not store.verify() and not store.compare()
    store.close()
    return sound


def server_kills(server: ScratchServer, count: int) -> bool:
    """The PostgreSQL server itself stopped as by a power cut, between and within writes."""
    address, told, gone = server.fresh(), list[str](), 0
    open_store(address).close()
    rng = random.Random(2)
    for _ in track(range(count), "PostgreSQL: server killed"):
        told += kill_once(address, rng, longest=0.2)
        server.stop("immediate")
        server.start()
        gone += len(lost(address, told, JOBS))
    sound = _whole(address)
    print(f"PostgreSQL: {count} kills of the server, {len(told)} acknowledged, {gone} lost")
    return sound and gone == 0


def harms(fresh: dict[str, Callable[[], str]], folder: Path, count: int) -> bool:
    sound = True
    share = count * 2 // 5
    for name, place in fresh.items():
        store = some(open_store(place()))
        sound &= _stored(name, store, share)
        store.close()
    store = some(open_store(folder / "harmed.db"))
    sound &= harm_export(store, folder, count - 2 * share)
    sound &= harm_file(store, folder, max(50, count // 10))
    store.close()
    return sound


def _stored(name: str, store: SqlStore, count: int) -> bool:
    rng, done, found, told = random.Random(3), 0, 0, 0
    names = list(HARMS)
    for at in track(range(count), f"{name}: harms to the stored journal"):
        result = None
        while result is None:
            # half of all are single bits of texts, the rest every other kind in turn
            kind = "flip_text" if at % 2 else names[(at // 2) % len(names)]
            result = harm(store.engine, kind, rng)
        hit, damages = result
        done += 1
        found += bool(damages)
        told += named(hit, damages)
    print(f"{name}: {done} harms to a stored journal, {found} found, {told} with job and entry "
          "named")  # fmt: skip
    return done == found == told


def disks(server: ScratchServer) -> bool:
    if os.geteuid() != 0:
        print("Full and read-only disk: not done, it needs root to make a small one.")
        return True
    told = {
        "SQLite, full disk": full_sqlite(),
        "SQLite, read-only disk": read_only_sqlite(),
        "PostgreSQL, full disk": full_postgresql(server),
    }
    for what, text in told.items():
        print(f"{what}: {text}")
    return all(" 0 lost, journal and tables sound" in text for text in told.values()) and not any(
        word in text for text in told.values() for word in ("never full", "it was entered")
    )


def attacked(folder: Path, count: int) -> bool:
    """Whatever is sent to the bench, it answers in words."""
    from attack import Attacker, attack
    from bench_live import made_bench
    from interface import description

    place = folder / "attacked"
    place.mkdir()
    bench = made_bench(place)
    attacker = Attacker(bench)
    described = description(bench, attacker.read)
    kinds = attack(described, attacker.send, count)
    bench.store.close()
    told = ", ".join(f"{kind} {number}" for kind, number in sorted(kinds.items()))
    print(
        f"Attack: {len(described['paths'])} routes, {sum(kinds.values())} requests, "
        f"{kinds.get('5xx', 0)} failures of the bench ({told})"
    )
    return not kinds.get("5xx")


def some(store: SqlStore) -> SqlStore:
    """Four jobs of ten entries, as they come in a shop."""
    for number in range(1, 5):
        hoist = HoistIdentity(maker="Ardle", serial=f"A-{2040 + number}")
        customer = Customer(name="Greyfell Quarry")
        store.append(f"KQ-{number}", [_draft(BookedIn(hoist=hoist, customer=customer))])
    for at in range(9):
        for number in range(1, 5):
            store.append(f"KQ-{number}", [_draft(_said(at, number))])
    return store


def _said(at: int, number: int) -> Body:
    if at % 3 == 2:
        place = str(at)
        return LookAnswered(part="pawl", feature="pawl.tip", place=place, answer="in order",
                            remark="½ worn, ok")  # fmt: skip
    value = 0.024 + at * 1e-5 + number * 1e-6
    return ReadingEntered(part="load_chain", feature="load_chain.link_pitch",
                          place=f"section {at}", values=(value,), unit="mm")  # fmt: skip


def _draft(body: Body) -> Draft:
    return Draft(body=body, by="odile")


if __name__ == "__main__":
    sys.exit(main())
