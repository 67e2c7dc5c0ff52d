"""Fifty tablets at once, as their script behaves: each enters readings, listens, and looks anew.

Two tablets share a job. Each keeps two connections and a stream open, enters a reading every so
many seconds, fetches its page after it, and again when it hears of somebody else's entry.
"""

from __future__ import annotations

import asyncio
import contextlib
import random
import re
import time
import uuid
from collections.abc import Sequence
from urllib.parse import urlencode

import attrs
from served_bench import Measure, served

from hoistwright.store.sql_store import open_store

TABLETS = 50


@attrs.define
class Tally:
    """What came of it. Times in seconds."""

    saved: list[float] = attrs.Factory(list)
    looked: list[float] = attrs.Factory(list)
    ids: dict[str, list[str]] = attrs.Factory(dict)
    errors: list[str] = attrs.Factory(list)


def tablets(name: str, where: str, *, seconds: float, pause: float) -> bool:
    """Let them work, then hold the record against what was acknowledged; whether all is there."""
    jobs = TABLETS // 2
    with served(where, jobs) as (port, cookie, found):
        tally = asyncio.run(_all(port, cookie, found, jobs, seconds, pause))
    store = open_store(where)
    lost = doubled = 0
    for job, ids in tally.ids.items():
        have = [event.id for event in store.events(job)]
        lost += sum(one not in have for one in ids)
        doubled += sum(have.count(one) > 1 for one in ids)
    sound = not store.verify() and not store.compare()
    store.close()
    print(
        f"{name}: {TABLETS} tablets for {seconds:.0f} s, {len(tally.saved)} readings entered, "
        f"{len(tally.errors)} errors, {lost} lost, {doubled} doubled, journal and tables "
        f"{'sound' if sound else 'DAMAGED'}; answered in {_in_ms(tally.saved)}; "
        f"the page after it in {_in_ms(tally.looked)}"
    )
    for error in tally.errors[:3]:
        print(f"  {error}")
    return sound and not tally.errors and not lost and not doubled


def _in_ms(times: list[float]) -> str:
    if not times:
        return "none"
    ranked = sorted(times)
    shares = (("p50", 0.5), ("p99", 0.99))
    ends = ", ".join(f"{word} {1e3 * ranked[int(at * (len(ranked) - 1))]:.0f} ms"
                     for word, at in shares)  # fmt: skip
    return f"{ends}, at most {1e3 * ranked[-1]:.0f} ms"


async def _all(
    port: int, cookie: str, found: Sequence[Measure], jobs: int, seconds: float, pause: float
) -> Tally:
    tally, until = Tally(), time.monotonic() + seconds
    token = await _token(port, cookie)
    work = [
        _Tablet(port, cookie, token, f"KQ-{at % jobs + 1}", tally, random.Random(at)).work(
            found, until, pause
        )
        for at in range(TABLETS)
    ]
    await asyncio.gather(*work)
    return tally


async def _token(port: int, cookie: str) -> str:
    line = await Line.to(port, cookie)
    text = await line.ask("GET", "/help")
    await line.close()
    found = re.search(rb'bench-token" content="([0-9a-f]+)"', text)
    assert found is not None
    return found[1].decode()


@attrs.define
class _Tablet:
    port: int
    cookie: str
    token: str
    job: str
    tally: Tally
    rng: random.Random

    async def work(self, found: Sequence[Measure], until: float, pause: float) -> None:
        line = await Line.to(self.port, self.cookie)
        listening = asyncio.create_task(self._listen())
        await asyncio.sleep(self.rng.uniform(0, pause))
        while time.monotonic() < until:
            part, feature, place, unit, figure = self.rng.choice(found)
            path = f"/jobs/{self.job}/parts/{part}"
            form = {"part": part, "feature": feature, "place": place, "unit": unit,
                    "value": figure, "gauge": ""}  # fmt: skip
            try:
                await self._enter(line, path, form)
                await self._look(line, path)
            except (OSError, RuntimeError, asyncio.IncompleteReadError) as error:
                self.tally.errors.append(f"{path}: {error}")
                line = await Line.to(self.port, self.cookie)
            await asyncio.sleep(self.rng.uniform(0.5, 1.5) * pause)
        listening.cancel()
        with contextlib.suppress(asyncio.CancelledError):
            await listening
        await line.close()

    async def _enter(self, line: Line, path: str, form: dict[str, str]) -> None:
        id_ = uuid.UUID(int=self.rng.getrandbits(128)).hex
        body = urlencode({"_token": self.token, "do": "reading", "id": id_, "by": "cora", **form})
        start = time.perf_counter()
        # five repeats are the most of one place: the sixth asks back, and begins with another gauge
        text = await line.ask("POST", path, body)
        self.tally.saved.append(time.perf_counter() - start)
        if b'"entered"' not in text:
            raise RuntimeError(text[:200].decode(errors="replace"))
        self.tally.ids.setdefault(self.job, []).append(id_)

    async def _look(self, line: Line, path: str) -> None:
        start = time.perf_counter()
        await line.ask("GET", path)
        self.tally.looked.append(time.perf_counter() - start)

    async def _listen(self) -> None:
        """The stream of the job; of somebody else's entry the page is fetched anew."""
        other = await Line.to(self.port, self.cookie)
        stream = await Line.to(self.port, self.cookie)
        try:
            async for told in stream.told(f"/jobs/{self.job}/stream"):
                if told.startswith(b"event: entry"):
                    await self._look(other, f"/jobs/{self.job}/parts/top_hook")
        except (OSError, RuntimeError, asyncio.IncompleteReadError) as error:
            self.tally.errors.append(f"stream of {self.job}: {error}")
        finally:
            await other.close()
            await stream.close()


@attrs.define
class Line:
    """One open connection."""

    reader: asyncio.StreamReader
    writer: asyncio.StreamWriter
    cookie: str

    @classmethod
    async def to(cls, port: int, cookie: str) -> Line:
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        return cls(reader, writer, cookie)

    async def ask(self, method: str, path: str, body: str = "") -> bytes:
        head = await self._head(method, path, body)
        length = re.search(rb"content-length: (\d+)", head)
        text = await self.reader.readexactly(int(length[1])) if length else b""
        if b" 200 " not in head[:20]:
            raise RuntimeError(f"{head[:30]!r} {text[:200]!r}")
        return text

    async def told(self, path: str):  # type: ignore[no-untyped-def]
        """The lines of a stream as they come."""
        await self._head("GET", path, "")
        while line := await self.reader.readline():
            yield line

    async def _head(self, method: str, path: str, body: str) -> bytes:
        kind = "application/x-www-form-urlencoded"
        head = (
            f"{method} {path} HTTP/1.1\r\nhost: localhost\r\ncookie: {self.cookie}\r\n"
            f"accept: {'application/json' if body else 'text/html'}\r\ncontent-type: {kind}\r\n"
            f"content-length: {len(body)}\r\n\r\n"
        )
        self.writer.write((head + body).encode())
        await self.writer.drain()
        return await self.reader.readuntil(b"\r\n\r\n")

    async def close(self) -> None:
        self.writer.close()
        with contextlib.suppress(OSError):
            await self.writer.wait_closed()
