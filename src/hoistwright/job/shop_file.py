"""Reading a shop file, and recording an adoption in it."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from hoistwright.basis.adoption import Adoption
from hoistwright.basis.adoption_text import adoption_toml
from hoistwright.datafile import load_text
from hoistwright.datafile.explain import dotted
from hoistwright.datafile.lines import KeyPath, line_of
from hoistwright.datafile.load import read_text
from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.job.charges import charge_faults
from hoistwright.job.gauges import GaugeError, gauge_of
from hoistwright.job.shop import Shop

FORMAT = 1

Found = tuple[KeyPath, str, str]
"""Key path, what was read, what may stand there."""


def load_shop(path: Path) -> Shop:
    """Read and check the shop file at `path`. Raises FaultsError with every fault found."""
    return shop_from_text(read_text(path), file=str(path))


def shop_from_text(text: str, *, file: str = "") -> Shop:
    """The shop in the TOML `text`; `file` is named in the faults."""
    shop = load_text(text, Shop, file=file)
    faults = [
        Fault(Place(file=file, line=line_of(text, key), key=dotted(key)), read, expected)
        for key, read, expected in _faults(shop)
    ]
    if faults:
        raise FaultsError(faults)
    return shop


def record_adoption(path: Path, adoption: Adoption) -> Path:
    """Add an adoption at the end of the shop file. All that stands there stays as it is.

    The file is written beside and then put in place, so that a full disk or a power cut leaves
    either the old or the new file, never half of one. Raises FaultsError.
    """
    before = read_text(path)
    gap = "" if before.endswith("\n\n") else "\n" if before.endswith("\n") else "\n\n"
    text = before + gap + adoption_toml(adoption)
    shop_from_text(text, file=str(path))
    beside = path.with_name(path.name + ".new")
    try:
        with beside.open("w", encoding="utf-8", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except OSError as error:
        said = error.strerror or str(error)
        raise FaultsError(
            [Fault(Place(file=str(path)), said, "a file that can be written")]
        ) from None
    return path


def _faults(shop: Shop) -> Iterator[Found]:
    if shop.format != FORMAT:
        yield ("format",), str(shop.format), f"{FORMAT}, the format this version reads"
    if not shop.name.strip():
        yield ("name",), "nothing", "the name of the shop: every report bears it"
    yield from _keys("people", (person.key for person in shop.people))
    yield from _keys("gauges", (gauge.key for gauge in shop.gauges))
    yield from _keys("test_weights", (weight.key for weight in shop.test_weights))
    for place, person in enumerate(shop.people):
        if not person.name.strip():
            yield ("people", place, "name"), "nothing", "a name: this person signs with it"
    yield from _gauges(shop)
    yield from _weights(shop)
    yield from charge_faults(shop.charges)


def _keys(table: str, keys: Iterable[str]) -> Iterator[Found]:
    seen: set[str] = set()
    for place, key in enumerate(keys):
        if not key.strip():
            yield (table, place, "key"), "nothing", "a short name"
        elif key.casefold() in seen:
            yield (table, place, "key"), f"{key!r} a second time", "each key once"
        seen.add(key.casefold())


def _gauges(shop: Shop) -> Iterator[Found]:
    for place, entry in enumerate(shop.gauges):
        try:
            gauge_of(entry)
        except GaugeError as error:
            yield ("gauges", place, error.key), error.read, error.expected


def _weights(shop: Shop) -> Iterator[Found]:
    for place, weight in enumerate(shop.test_weights):
        path: KeyPath = ("test_weights", place)
        if weight.mass <= 0:
            yield (*path, "mass"), "zero or less", "a mass above zero"
        elif not 0 <= weight.uncertainty < weight.mass:
            yield (*path, "uncertainty"), "a figure out of bounds", "from zero to below the mass"
        if weight.count < 1:
            yield (*path, "count"), str(weight.count), "1 or more"
