"""Broken bases: 600 seeded mutations of shipped files are refused with faults, or are valid.

Never another exception: no traceback may reach a technician who has edited a file.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from hoistwright.basis.loading import load_basis, shipped_bases, shipped_folder
from hoistwright.faults import FaultsError

PER_SEED = 100

Mutation = Callable[[bytes, random.Random], bytes]

JUNK = (b"nan", b"-inf", b"1e999", b'"NaN %"', b"[]", b"{}", b"true", b"1979-05-27T07:32:00Z",
        b'"' + b"9" * 400 + b' %"', b"\xff\xfe", b"\x00", b'"1/0 in"', b"[[[[",
        b'"-5 %"', b'"5,5,5"',
        b"99999999999999999999", b'"\\ud800"', b"0001-01-01", "\"५ %\"".encode())  # fmt: skip


def _cut(data: bytes, rng: random.Random) -> bytes:
    return data[: rng.randrange(len(data))]


def _flip(data: bytes, rng: random.Random) -> bytes:
    out = bytearray(data)
    for _ in range(rng.randint(1, 8)):
        out[rng.randrange(len(out))] = rng.randrange(256)
    return bytes(out)


def _lines(data: bytes, rng: random.Random) -> bytes:
    lines = data.splitlines(keepends=True)
    rng.shuffle(lines)
    return b"".join(lines[: rng.randint(0, len(lines))])


def _value(data: bytes, rng: random.Random) -> bytes:
    lines = data.splitlines()
    places = [n for n, line in enumerate(lines) if b" = " in line]
    place = rng.choice(places)
    lines[place] = lines[place].split(b" = ")[0] + b" = " + rng.choice(JUNK)
    return b"\n".join(lines)


def _swap(data: bytes, rng: random.Random) -> bytes:
    """Two values of one file change places: right words at wrong keys."""
    lines = data.splitlines()
    places = [n for n, line in enumerate(lines) if b" = " in line]
    one, other = rng.choice(places), rng.choice(places)
    (a, x), (b, y) = (lines[n].split(b" = ", 1) for n in (one, other))
    lines[one], lines[other] = a + b" = " + y, b + b" = " + x
    return b"\n".join(lines)


def _repeat(data: bytes, rng: random.Random) -> bytes:
    return data * rng.randint(2, 4)


MUTATIONS: tuple[Mutation, ...] = (_cut, _flip, _lines, _value, _swap, _repeat)


@pytest.mark.parametrize("seed", range(6))
def test_a_broken_basis_gives_faults_or_loads(seed: int, tmp_path: Path) -> None:
    rng = random.Random(seed)
    refused = 0
    for number in range(PER_SEED):
        folder = _copy(tmp_path / str(number), rng)
        victim = rng.choice(sorted(folder.glob("*.toml")))
        mutation = rng.choice(MUTATIONS)
        victim.write_bytes(mutation(victim.read_bytes(), rng))
        try:
            load_basis(folder)
        except FaultsError as error:
            refused += 1
            assert all(fault.read and fault.expected for fault in error.faults)
            assert all(fault.place.file for fault in error.faults)
    assert refused > PER_SEED / 2


def _copy(where: Path, rng: random.Random) -> Path:
    """A basis folder with its head and a few of its criteria: enough to break."""
    key = rng.choice(shipped_bases())
    folder = where / key
    folder.mkdir(parents=True)
    files = sorted((shipped_folder() / key).glob("*.toml"))
    chosen = {file for file in files if file.name == "basis.toml"} | set(
        rng.sample(files, min(3, len(files)))
    )
    for file in chosen:
        (folder / file.name).write_bytes(file.read_bytes())
    return folder
