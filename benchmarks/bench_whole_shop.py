"""A bench with a whole life's record: 200,000 hoists and 5 million readings. Against limits.

Asked over HTTP, as a tablet asks: opening a job within 60 ms (jobs picked at random, and one that
was examined from end to end), a part of it, and searching the register within 50 ms; at the
middle and at the 99th of 100, each over its limit. Fills an SQLite record first, which takes some
minutes and 8 GB of disk; `--hoists 20000` fills less.

Fails where the middle is over its limit.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from urllib.parse import quote

sys.path.insert(0, str(Path(__file__).parents[1] / "tests/support"))
sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))

from bench_web_saving import Caller, at
from fill_store import fill
from served_bench import served

READINGS = 25
OPEN, SEARCH = 0.060, 0.050
ASKS = 200
TYPED = ("041234", "ardle", "quarry", "A-01", "boatyard 0199", "7", "no such thing", "T-0042")


def main() -> int:
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    words.add_argument("--hoists", type=int, default=200_000)
    asked = words.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        path, start = Path(folder) / "whole.db", time.perf_counter()
        fill(path, asked.hoists, READINGS)
        size = path.stat().st_size
        print(f"filled {asked.hoists:,} hoists, {READINGS * asked.hoists:,} readings: "
              f"{time.perf_counter() - start:.0f} s, {size / 1e9:.1f} GB")  # fmt: skip
        with served(str(path), 1, examined=True) as (port, cookie, _):
            return 0 if asking(Caller(port, cookie), asked.hoists) else 1


def asking(caller: Caller, hoists: int) -> bool:
    rng = random.Random(3)
    jobs = [f"KQ-{rng.randint(1, hoists):06d}" for _ in range(ASKS)]
    held = told("opening a job at random", caller, OPEN, lambda n: f"/jobs/{jobs[n]}")
    held &= told("opening a job examined in full", caller, OPEN, lambda _: "/jobs/KQ-1")
    held &= told("its load chain", caller, OPEN, lambda _: "/jobs/KQ-1/parts/load_chain")
    held &= told("all its parts", caller, OPEN, lambda _: "/jobs/KQ-1/examine")
    typed = [quote(TYPED[n % len(TYPED)]) for n in range(ASKS)]
    held &= told("searching the register", caller, SEARCH, lambda n: f"/hoists?q={typed[n]}")
    return held


def told(what: str, caller: Caller, limit: float, path: Callable[[int], str]) -> bool:
    times = [caller.looked(path(number)) for number in range(ASKS)]
    middle, late = at(times, 0.5), at(times, 0.99)
    print(f"{what}: p50 {1e3 * middle:.1f} ms, p99 {1e3 * late:.1f} ms; over the limit of "
          f"{1e3 * limit:.0f} ms: {middle / limit:.2f} and {late / limit:.2f}")  # fmt: skip
    return middle <= limit


if __name__ == "__main__":
    sys.exit(main())
