"""The designs there are: shipped ones, and the shop's own out of the database."""

from __future__ import annotations

import functools
import threading
from pathlib import Path, PurePosixPath

import attrs

from hoistwright.faults import FaultsError
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import load_design, shipped, shipped_keys
from hoistwright.web.bench import Bench
from hoistwright.web.records.own_designs import own_texts


@attrs.frozen
class Named:
    """A design under the name that a job knows it by."""

    name: str
    design: Design
    own: bool = False


def all_designs(bench: Bench) -> tuple[Named, ...]:
    """Every design, the shop's own last. One of its own that cannot be read is left out."""
    found = [Named(key, shipped(key)) for key in shipped_keys()]
    for name in sorted(_own(bench)):
        design = design_named(bench, name)
        if design is not None:
            found.append(Named(name, design, own=True))
    return tuple(found)


def design_named(bench: Bench, name: str) -> Design | None:
    """The design of a job: a shipped key, or the name of one of the shop's own (`x.toml`)."""
    if name in shipped_keys():
        return shipped(name)
    file = PurePosixPath(name.replace("\\", "/")).name
    text = _own(bench).get(file)
    if text is None:
        return None
    try:
        return _read(str(bench.designs_folder / file), text)
    except FaultsError:
        return None


def design_from_text(bench: Bench, name: str, text: str) -> Design:
    """Read and check the text of a design file of the shop's own. Raises FaultsError."""
    return _read(str(bench.designs_folder / name), text)


def _own(bench: Bench) -> dict[str, str]:
    return bench.kept.get(bench.engine, "own designs", own_texts)


_LAYING = threading.Lock()
"""Two texts of one name are laid at one place: none may be read as the other."""


@functools.lru_cache(maxsize=500)
def _read(path: str, text: str) -> Design:
    """Files that may stand beside a design make the reader want a path: lay it out first."""
    with _LAYING:
        Path(path).parent.mkdir(parents=True, exist_ok=True)
        Path(path).write_text(text, encoding="utf-8")
        return load_design(Path(path))
