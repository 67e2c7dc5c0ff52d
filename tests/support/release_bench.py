"""A bench with signing keys, and jobs of which only the signature is missing."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import attrs
from bench_live import PASSWORD, PIN, LiveBench, live, made_bench

from hoistwright.demo.signed_job import PASSPHRASE, SIGNER, make_demo_keys, ready_job
from hoistwright.job.shop import Person
from hoistwright.store.connect import reading, writing
from hoistwright.web.bench import Bench
from hoistwright.web.records.accounts import change_account, find_account
from hoistwright.web.records.shop_records import shop_of
from hoistwright.web.security.secrets import hashed

READY = "KQ-0450"
"""A job that lacks its signature."""
START = datetime.date(2026, 1, 1)


def signing_bench(folder: Path, *jobs: str, keys: bool = True) -> Bench:
    """A bench whose competent person, Odile, has password, PIN and, with `keys`, a signing key."""
    bench = made_bench(folder, jobs=False)
    bench = attrs.evolve(bench, keys_folder=folder / "keys", keys_passphrase=PASSPHRASE)
    with reading(bench.engine) as conn:
        shop, odile = shop_of(conn), find_account(conn, SIGNER)
    assert odile is not None
    with writing(bench.engine) as conn:
        change_account(conn, attrs.evolve(odile, password=hashed(PASSWORD), pin=hashed(PIN)))
    if keys:
        make_demo_keys(folder / "keys", attrs.evolve(shop, people=_demo(shop.people)), START)
    for place, job in enumerate(jobs):
        ready_job(bench, job, f"AL-90{place:02d}")
    return bench


def _demo(people: tuple[Person, ...]) -> tuple[Person, ...]:
    """Odile alone gets a key: Cora is competent and has none."""
    return tuple(person for person in people if person.key != "cora")


@contextmanager
def live_signing(folder: Path, *jobs: str) -> Iterator[LiveBench]:
    with live(signing_bench(folder, *jobs)) as running:
        yield running
