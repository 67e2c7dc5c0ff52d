"""A writer that is killed at a random moment. What it acknowledged must be there afterwards."""

from __future__ import annotations

import os
import random
import select
import signal
import time
from collections.abc import Callable

from hoistwright.job.entry import Draft, new_id
from hoistwright.job.events import BookedIn, Corrected, LookAnswered, ReadingEntered
from hoistwright.job.job_sheet import Customer, HoistIdentity
from hoistwright.store.sql_store import open_store

ID_LENGTH = 32


def kill_once(address: str, rng: random.Random, *, longest: float = 0.12) -> list[str]:
    """Start a writer, kill it (signal 9) at a random moment; the ids it had acknowledged.

    The caller holds no connection of its own meanwhile: the writer is a fork.
    """
    read, write = os.pipe()
    seed = rng.randrange(2**32)
    child = os.fork()
    if child == 0:
        os.close(read)
        _child(address, write, random.Random(seed))
    os.close(write)
    heard = bytearray()
    try:
        _listen(read, heard, until=lambda: len(heard) > 0, seconds=30)
        _listen(read, heard, until=lambda: False, seconds=rng.uniform(0, longest))
    finally:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
    _listen(read, heard, until=lambda: False, seconds=30)
    os.close(read)
    text = heard.decode()
    whole = len(text) // (ID_LENGTH + 1)
    return [text[at * (ID_LENGTH + 1) :][:ID_LENGTH] for at in range(whole)]


def lost(address: str, acknowledged: list[str], jobs: list[str]) -> list[str]:
    """Of these ids, those the record does not have."""
    store = open_store(address)
    try:
        have = {event.id for job in jobs for event in store.events(job)}
    finally:
        store.close()
    return [id_ for id_ in acknowledged if id_ not in have]


JOBS = [f"KQ-{number}" for number in range(1, 5)]


def _child(address: str, out: int, rng: random.Random) -> None:
    """Never returns. An id goes out only after the append that entered it came back."""
    try:
        store = open_store(address)
        last: dict[str, str] = {}
        while True:
            job = rng.choice(JOBS)
            drafts = [_draft(rng, last.get(job)) for _ in range(rng.choice((1, 1, 1, 5)))]
            done = store.append(job, drafts)
            readings = [event.id for event in done.events if event.kind == "reading"]
            last.update({job: readings[-1]} if readings else {})
            os.write(out, "".join(f"{draft.id}\n" for draft in drafts).encode())
    finally:
        os._exit(1)


def _draft(rng: random.Random, last: str | None) -> Draft:
    place = f"section {rng.randint(1, 9)}"
    reading = ReadingEntered(
        part="load_chain",
        feature="load_chain.link_pitch",
        place=place,
        values=(rng.uniform(0.02, 0.03),),
        unit="mm",
    )
    kind = rng.random()
    if kind < 0.1:
        hoist = HoistIdentity(maker="Ardle", serial=f"A-{rng.randint(1, 5)}")
        return Draft(id=new_id(), by="wren", body=BookedIn(hoist=hoist, customer=Customer()))
    if kind < 0.3:
        look = LookAnswered(part="pawl", feature="pawl.tip", place="1", answer="in order")
        return Draft(id=new_id(), by="wren", body=look)
    if kind < 0.4 and last is not None:
        return Draft(id=new_id(), by="wren", body=Corrected(corrects=last, replacement=reading))
    return Draft(id=new_id(), by="tomasz", body=reading)


def _listen(pipe: int, heard: bytearray, *, until: Callable[[], bool], seconds: float) -> None:
    """Read until told enough, until the time is over or until the writer is gone."""
    end = time.monotonic() + seconds
    while not until():
        ready, _, _ = select.select([pipe], [], [], max(0.0, end - time.monotonic()))
        if not ready:
            return
        piece = os.read(pipe, 65536)
        if not piece:
            return
        heard += piece
