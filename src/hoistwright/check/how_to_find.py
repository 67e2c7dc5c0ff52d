"""How a technician without the maker's manual finds a figure: counts, readings, the data plate."""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable, Mapping
from importlib import resources

import attrs

from hoistwright.datafile import load_text


@attrs.frozen(kw_only=True)
class Way:
    key: str
    find: str


@attrs.frozen(kw_only=True)
class Ways:
    way: tuple[Way, ...]


@functools.cache
def ways() -> Mapping[str, str]:
    """Key of a design (entries of a list without their part) to the sentence that says how."""
    file = resources.files("hoistwright.check") / "how_to_find.toml"
    loaded = load_text(file.read_text(encoding="utf-8"), Ways, file="how_to_find.toml")
    return {way.key: way.find for way in loaded.way}


def how_to_find(keys: Iterable[str]) -> str:
    """One sentence for each missing key, in order, each once."""
    told = (ways().get(plain_key(key), f"State {key}.") for key in keys)
    return " ".join(dict.fromkeys(told))


def plain_key(key: str) -> str:
    """`hooks[top_hook].depth` as `hooks.depth`."""
    return re.sub(r"\[[^\]]*\]", "", key)
