"""Reading design files: the shipped ones by key, a technician's own by path."""

from __future__ import annotations

import functools
from importlib import resources
from pathlib import Path
from typing import Any

import attrs

from hoistwright.datafile import read_table, structure_table
from hoistwright.datafile.load import read_text
from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.hoist.design import Design
from hoistwright.hoist.family import merged, not_in_family
from hoistwright.hoist.fault_places import mentioned, placed
from hoistwright.hoist.references import reference_faults

BESIDE = (".take-apart", ".drawn")
"""A design or family `x.toml` may keep its take-apart steps in `x.take-apart.toml` and how
its parts are drawn in `x.drawn.toml` beside it."""


def shipped_folder() -> Path:
    """The folder of the shipped design files."""
    return Path(str(resources.files("hoistwright.hoist"))) / "designs"


@functools.cache
def shipped_keys() -> tuple[str, ...]:
    """The keys of the shipped designs, sorted."""
    return _keys_in(shipped_folder())


def _keys_in(folder: Path) -> tuple[str, ...]:
    """The stems of the design files of a folder; a file that stands beside one is no design."""
    stems = (file.stem for file in folder.glob("*.toml"))
    return tuple(sorted(stem for stem in stems if not stem.endswith(BESIDE)))


@functools.cache
def shipped(key: str) -> Design:
    """The shipped design with this key. Raises FaultsError naming those there are."""
    if key not in shipped_keys():
        raise FaultsError(
            [
                Fault(
                    Place(),
                    f"the design {key!r}",
                    "one of: " + ", ".join(shipped_keys()),
                    "Or give the path of a design file of your own.",
                )
            ]
        )
    return load_design(shipped_folder() / f"{key}.toml")


def find_design(name: str, *, beside: Path | None = None) -> Design:
    """A design by key, or by path (taken from the folder `beside` where it is relative)."""
    if name.endswith(".toml"):
        return load_design((beside or Path()) / name)
    return shipped(name)


def load_design(path: Path) -> Design:
    """Read and check one design file. Raises FaultsError with every fault found."""
    text = read_text(path)
    own = read_table(text, file=str(path))
    table = _with_family(own, path)
    try:
        alone = "like" not in own and not _files_beside(path)
        design = structure_table(table, Design, file=str(path), text=text if alone else "")
    except FaultsError as error:
        raise FaultsError(placed(fault, table, own, text) for fault in error.faults) from None
    faults = reference_faults(design, file=str(path))
    if faults:
        raise FaultsError(mentioned(fault, text) for fault in faults)
    return design


def _with_family(own: dict[str, Any], path: Path) -> dict[str, Any]:
    name = own.get("like")
    if name is None:
        return _with_files_beside(own, path)
    known = _keys_in(shipped_folder() / "families")
    place = Place(file=str(path), key="like")
    if name not in known:
        raise FaultsError([Fault(place, repr(name), "a family: " + ", ".join(known))])
    without = own.get("without", [])
    if not isinstance(without, list) or not all(isinstance(item, str) for item in without):
        place = attrs.evolve(place, key="without")
        raise FaultsError([Fault(place, repr(without), "a list of part and step keys")])
    family = shipped_folder() / "families" / f"{name}.toml"
    base = _with_files_beside(read_table(read_text(family), file=str(family)), family)
    strange = not_in_family(base, without)
    if strange:
        place = attrs.evolve(place, key="without")
        raise FaultsError(
            Fault(place, repr(item), f"a part or step of the family {name}") for item in strange
        )
    return _with_files_beside(merged(base, own), path)


def _with_files_beside(table: dict[str, Any], path: Path) -> dict[str, Any]:
    """`table` with the files that stand beside `path` laid over it."""
    for file in _files_beside(path):
        table = merged(table, _with_shared(file))
    return table


def _with_shared(file: Path) -> dict[str, Any]:
    """A file beside, laid over the one that several families share, where it names one."""
    own = read_table(read_text(file), file=str(file))
    if "like" not in own:
        return own
    suffix = "".join(file.suffixes[-2:])
    known = [each.name.removesuffix(suffix) for each in _shared_files(suffix)]
    if own["like"] not in known:
        place = Place(file=str(file), key="like")
        raise FaultsError([Fault(place, repr(own["like"]), "one of: " + ", ".join(known))])
    shared = shipped_folder() / "families" / f"{own['like']}{suffix}"
    return merged(read_table(read_text(shared), file=str(shared)), own)


def _shared_files(suffix: str) -> list[Path]:
    """The files of this kind that stand beside no family: several families share them."""
    folder = shipped_folder() / "families"
    files = sorted(folder.glob(f"*{suffix}"))
    return [each for each in files if not (folder / each.name.replace(suffix, ".toml")).exists()]


def _files_beside(path: Path) -> list[Path]:
    found = (path.with_name(f"{path.stem}{suffix}.toml") for suffix in BESIDE)
    return [file for file in found if file.exists()]
