"""Short names made from long ones: for people, for design files."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection


def short_name(name: str) -> str:
    """Lower-case letters, digits and dashes; empty where nothing of that is in the name.

    >>> short_name("Ardle Hébert & Co. 2000")
    'ardle-hebert-co-2000'
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.casefold()).strip("-")[:40].strip("-")


def free_key(name: str, taken: Collection[str], *, other: str = "person") -> str:
    """A key that nobody has: the first word, then the whole name, then with a number."""
    whole = short_name(name) or other
    first = whole.split("-")[0]
    used = {key.casefold() for key in taken}
    for key in (first, whole, *(f"{whole}-{n}" for n in range(2, len(used) + 3))):
        if key not in used:
            return key
    raise AssertionError("more keys than people")
