"""Saving a reading with its verdict, against a bare app of the same framework. Prints ratios.

Both are real servers (uvicorn, a process of their own), asked by turns over one open connection
each in one run: the bench takes a reading as the tablet sends it (session, form token, rights,
journal and tables, verdict, the pieces of the page that changed), the bare app reads the same
form and inserts one row durably with the same database. At the middle and at the 99th of 100, on
SQLite and on PostgreSQL. Asked: at most 2.

    python benchmarks/bench_web_saving.py [--saves 1000] [--only SQLite]
"""

from __future__ import annotations

import argparse
import random
import re
import socket
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from urllib.parse import urlencode

sys.path.insert(0, str(Path(__file__).parents[1] / "tests/support"))
sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))

from bare_app import serve_bare
from rich.progress import track
from scratch_postgresql import ScratchServer
from served_bench import JOBS, Measure, running, served

ASKED = 2.0
WARMING = 60


def main() -> int:
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    words.add_argument("--saves", type=int, default=1000)
    words.add_argument("--only", choices=("SQLite", "PostgreSQL"))
    asked = words.parse_args()
    held = True
    with tempfile.TemporaryDirectory() as folder:
        if asked.only in (None, "SQLite"):
            here = Path(folder)
            held &= saving("SQLite", str(here / "ours.db"), str(here / "bare.db"), asked.saves)
        if asked.only in (None, "PostgreSQL"):
            server = ScratchServer()
            try:
                held &= saving("PostgreSQL", server.fresh(), server.fresh(), asked.saves)
            finally:
                server.close()
    return 0 if held else 1


def saving(name: str, ours: str, bare: str, saves: int) -> bool:
    """Save by turns at both; whether both ratios are as asked."""
    with (
        served(ours) as (port, cookie, found),
        running(serve_bare, bare) as (other, _, _),
    ):
        bench, plain = Caller(port, cookie), Caller(other, "")
        token = bench.token()
        times: tuple[list[float], list[float]] = ([], [])
        for number in track(range(saves + WARMING), f"{name}: saving readings"):
            path, form = reading(number, token, found)
            mine, theirs = bench.timed(path, form), plain.timed("/", form)
            if number >= WARMING:
                times[0].append(mine)
                times[1].append(theirs)
    return told(name, times)


def told(name: str, times: tuple[list[float], list[float]]) -> bool:
    held = True
    for word, share in (("p50", 0.5), ("p99", 0.99)):
        a, b = (at(which, share) for which in times)
        held &= a <= ASKED * b
        print(f"{name}, a reading saved with its verdict, {word}: {1e3 * a:.2f} ms over a bare "
              f"app's {1e3 * b:.2f} ms: {a / b:.2f} (asked: {ASKED:.0f})")  # fmt: skip
    return held


def at(times: Sequence[float], share: float) -> float:
    return sorted(times)[min(len(times) - 1, int(share * len(times)))]


_RNG = random.Random(8)


def reading(number: int, token: str, found: Sequence[Measure]) -> tuple[str, dict[str, str]]:
    """Address and form as the tablet's script sends them: five people, each measuring a hoist."""
    part, feature, place, unit, figure = found[number // JOBS % len(found)]
    form = {
        "_token": token,
        "do": "reading",
        "id": f"{_RNG.getrandbits(128):032x}",
        "seen": str(10**8),
        "part": part,
        "feature": feature,
        "place": place,
        "unit": unit,
        "gauge": "",
        "value": figure,
        "by": "cora",
    }
    return f"/jobs/KQ-{number % JOBS + 1}/parts/{part}", form


class Caller:
    """One open connection, as a tablet keeps it; its own work is small, for it is timed too."""

    def __init__(self, port: int, cookie: str) -> None:
        self._line = socket.create_connection(("127.0.0.1", port))
        self._line.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._cookie = cookie

    def token(self) -> str:
        text = self._ask("GET", "/help", b"", "text/html")
        found = re.search(rb'bench-token" content="([0-9a-f]+)"', text)
        assert found is not None
        return found[1].decode()

    def timed(self, path: str, form: dict[str, str]) -> float:
        body = urlencode(form).encode()
        start = time.perf_counter()
        self._ask("POST", path, body, "application/json")
        took = time.perf_counter() - start
        return took

    def looked(self, path: str) -> float:
        """How long a page takes."""
        start = time.perf_counter()
        self._ask("GET", path, b"", "text/html")
        return time.perf_counter() - start

    def _ask(self, method: str, path: str, body: bytes, accept: str) -> bytes:
        kind = "application/x-www-form-urlencoded"
        head = (
            f"{method} {path} HTTP/1.1\r\nhost: localhost\r\ncookie: {self._cookie}\r\n"
            f"accept: {accept}\r\ncontent-type: {kind}\r\ncontent-length: {len(body)}\r\n\r\n"
        )
        self._line.sendall(head.encode() + body)
        got = b""
        while b"\r\n\r\n" not in got:
            got += self._more(got)
        head_got, _, text = got.partition(b"\r\n\r\n")
        length = re.search(rb"content-length: (\d+)", head_got)
        assert length is not None
        while len(text) < int(length[1]):
            text += self._more(text)
        if b" 200 " not in head_got[:20]:
            raise RuntimeError(f"{path}: {head_got[:40]!r} {text[:400]!r}")
        return text

    def _more(self, got: bytes) -> bytes:
        more = self._line.recv(65536)
        if not more:
            raise RuntimeError(f"the server hung up after {got[:200]!r}")
        return more


if __name__ == "__main__":
    sys.exit(main())
