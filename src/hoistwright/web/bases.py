"""The bases there are: shipped ones, and the shop's own out of the database."""

from __future__ import annotations

import functools
import hashlib
import re
import threading
import tomllib
from pathlib import Path

from hoistwright.basis.loading import HEAD, load_basis, shipped_bases, shipped_basis
from hoistwright.basis.model import Basis
from hoistwright.datafile.load import read_text
from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.store.connect import writing
from hoistwright.web.bench import Bench
from hoistwright.web.records.own_bases import Files, keep_basis, own_files

MOST_FILES, MOST_BYTES = 200, 400_000
_NAME = re.compile(r"[A-Za-z0-9_-]{1,80}\.toml")
_KEY = re.compile(r"[a-z0-9][a-z0-9-]{1,60}")


def basis_keys(bench: Bench) -> tuple[str, ...]:
    """The keys of all bases, the shop's own last; without what cannot be read any more."""
    return (*shipped_bases(), *(key for key in sorted(_own(bench)) if basis_named(bench, key)))


def basis_named(bench: Bench, key: str) -> Basis | None:
    """The basis with this key, as it stands now."""
    if key in shipped_bases():
        return shipped_basis(key)
    files = _own(bench).get(key)
    if files is None:
        return None
    try:
        return _read(str(bench.designs_folder), key, tuple(sorted(files.items())))
    except FaultsError:
        return None


def bases_named(bench: Bench, keys: tuple[str, ...]) -> tuple[Basis, ...]:
    """Those of these bases that there are."""
    found = (basis_named(bench, key) for key in keys)
    return tuple(basis for basis in found if basis is not None)


def take_basis(bench: Bench, files: Files, *, by: str) -> Basis:
    """Check the files of a basis and keep them. Raises FaultsError with every fault found."""
    key = _key(files)
    basis = _read(str(bench.designs_folder), key, tuple(sorted(files.items())))
    with writing(bench.engine) as conn:
        keep_basis(conn, key, basis.digest, files, by=by, at=bench.now())
    return basis


def take_folder(bench: Bench, folder: Path, *, by: str = "") -> tuple[Basis, ...]:
    """Take over every basis in a folder, each in a folder of its name. Raises FaultsError."""
    heads = sorted(folder.glob(f"*/{HEAD}"))
    if not heads:
        expected = f"folders with a {HEAD} each"
        raise FaultsError([Fault(Place(file=str(folder)), "no basis in it", expected)])
    return tuple(take_basis(bench, _texts(head.parent), by=by) for head in heads)


def _texts(folder: Path) -> dict[str, str]:
    return {file.name: read_text(file) for file in folder.glob("*.toml")}


def _own(bench: Bench) -> dict[str, dict[str, str]]:
    return bench.kept.get(bench.engine, "own bases", own_files)


def _key(files: Files) -> str:
    """The key that a basis gives itself; no shipped one's. Raises FaultsError."""
    faults = [
        Fault(Place(file=name[:80]), "its name", "letters, digits, - or _, and .toml at the end")
        for name in files
        if not _NAME.fullmatch(name)
    ]
    if HEAD not in files:
        faults.append(Fault(Place(file=HEAD), "it is missing", "the head of the basis"))
    if len(files) > MOST_FILES or sum(map(len, files.values())) > MOST_BYTES:
        faults.append(Fault(Place(), f"{len(files)} files", f"{MOST_FILES} small ones at most"))
    if faults:
        raise FaultsError(faults)
    try:
        key = str(tomllib.loads(files[HEAD]).get("key", ""))
    except tomllib.TOMLDecodeError as error:
        raise FaultsError([Fault(Place(file=HEAD), str(error), "TOML")]) from None
    if not _KEY.fullmatch(key) or key in shipped_bases():
        expected = "small letters, digits and -; not the key of a basis that comes with the program"
        raise FaultsError([Fault(Place(file=HEAD, key="key"), repr(key), expected)])
    return key


_LAYING = threading.Lock()
"""No file is read while another request writes it."""


@functools.lru_cache(maxsize=50)
def _read(beside: str, key: str, files: tuple[tuple[str, str], ...]) -> Basis:
    """A basis is read from a folder of its name: lay it out, then read it."""
    content = hashlib.sha256(repr(files).encode()).hexdigest()[:24]
    folder = Path(beside) / "bases" / content / key
    folder.mkdir(parents=True, exist_ok=True)
    with _LAYING:
        for name, text in files:
            (folder / name).write_text(text, encoding="utf-8")
        return load_basis(folder)
