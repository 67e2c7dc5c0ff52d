"""Verifying an exported file by itself: no database is needed."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import attrs

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.job.codec import canonical
from hoistwright.store.chain import Chains, Raw
from hoistwright.store.model import Damage, Head
from hoistwright.store.raw_lines import FIRST, MOST_LINE

MOST = 10_000

_JOB = re.compile(rb'"job":"([^"\\]{1,80})"')
_SEQ = re.compile(rb'"seq":(\d{1,9})[,}]')


def verify_lines(path: Path, *, noted: Head | None = None) -> tuple[Damage, ...]:
    """Everything that is wrong with an exported file; empty: it is as it was written.

    Raises FaultsError where it cannot be read at all.
    """
    try:
        with path.open("rb") as file:
            walk = _Walk(Chains(noted))
            found: list[Damage] = []
            for damage in walk.all(iter(lambda: file.readline(MOST_LINE), b"")):
                found.append(damage)
                if len(found) >= MOST:
                    break
            return tuple(found)
    except OSError as error:
        said = error.strerror or str(error)
        fault = Fault(Place(file=str(path)), said, "a file that can be read")
        raise FaultsError([fault]) from None


@attrs.define
class _Walk:
    """One pass over the lines of an export."""

    chains: Chains
    number: int = 0
    jobs: dict[str, tuple[int, str]] = attrs.Factory(dict)
    head: Head | None = None

    def all(self, lines: Iterator[bytes]) -> Iterator[Damage]:
        if next(lines, b"") != canonical(FIRST).encode() + b"\n":
            yield _file("its first line does not say that it is a record of format 1")
        for line in lines:
            yield from self._line(line)
        yield from self.chains.heads(self.head, self.jobs)

    def _line(self, line: bytes) -> Iterator[Damage]:
        if self.head is not None:
            yield _file("lines follow after its end")
        table = _table(line)
        kinds = {"entry", "attachment", "stands", "head"} & set(table or ())
        if table is None or len(kinds) != 1:
            yield self._unreadable(line)
            return
        yield from _READ[kinds.pop()](self, table)

    def _unreadable(self, line: bytes) -> Damage:
        """An entry's line counts as one: the next is not taken for it."""
        job, seq = _JOB.search(line), _SEQ.search(line)
        named = job[1].decode("utf-8", "replace") if job else ""
        number = self.number + 1 if b'"entry"' in line or (job and seq) else 0
        what = "its line cannot be read, or is not as it was written"
        return Damage(
            harm="unreadable", number=number, job=named, seq=int(seq[1]) if seq else 0, what=what
        )

    def _entry(self, table: dict[str, Any]) -> Iterator[Damage]:
        entry = table["entry"]
        self.number = self.chains.last + 1
        yield from self.chains.walk(
            [
                Raw(
                    number=self.number,
                    id=str(entry.get("id")),
                    job=str(entry.get("job")),
                    seq=entry["seq"] if isinstance(entry.get("seq"), int) else 0,
                    entry=canonical(entry),
                    hash=str(table.get("hash")),
                    chain=str(table.get("chain")),
                )
            ]
        )

    def _attachment(self, table: dict[str, Any]) -> Iterator[Damage]:
        content = str(table["attachment"])
        try:
            data = base64.b64decode(table["data"], validate=True)
        except (ValueError, KeyError, TypeError):
            data = b""
        sound = hashlib.sha256(data).hexdigest() == content and len(data) == table.get("size")
        if not sound or base64.b64encode(data).decode() != table.get("data"):
            job, seq = self.chains.pictures.get(content, ("", 0))
            what = f"its attachment {content[:12]} was altered"
            yield Damage(harm="altered", number=0, job=job, seq=seq, what=what)

    def _stands(self, table: dict[str, Any]) -> Iterator[Damage]:
        self.jobs[str(table["stands"])] = (int(table.get("seq", 0)), str(table.get("hash")))
        yield from ()

    def _head(self, table: dict[str, Any]) -> Iterator[Damage]:
        self.head = Head(number=int(table["head"]), chain=str(table.get("chain")))
        yield from ()


_READ = {
    "entry": _Walk._entry,
    "attachment": _Walk._attachment,
    "stands": _Walk._stands,
    "head": _Walk._head,
}


def _table(line: bytes) -> dict[str, Any] | None:
    """The line as a table; None where it is not byte for byte what an export writes."""
    try:
        table: Any = json.loads(line)
        again = json.dumps(table, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
        same = again.encode() + b"\n" == line
    except (ValueError, RecursionError):
        return None
    if not same or not isinstance(table, dict) or not isinstance(table.get("entry", {}), dict):
        return None
    return table


def _file(what: str) -> Damage:
    return Damage(harm="unreadable", number=0, job="", seq=0, what=f"the file: {what}")
