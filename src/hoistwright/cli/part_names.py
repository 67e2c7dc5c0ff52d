"""Parts as people type them on the command line."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.hoist.design import Design


def known_parts(design: Design, words: Iterable[str]) -> tuple[str, ...]:
    """Part keys for part keys, part names or roles ("hook" gives both hooks).

    Raises FaultsError naming every word that is none of them, with the nearest ones.
    """
    found: list[str] = []
    faults: list[Fault] = []
    for word in words:
        keys = _keys(design, word.strip().lower())
        found += keys
        if not keys:
            faults.append(_unknown(design, word))
    if faults:
        raise FaultsError(faults)
    return tuple(dict.fromkeys(found))


def _keys(design: Design, word: str) -> list[str]:
    exact = [p.key for p in design.parts if word in (p.key, p.name.lower())]
    return exact or [p.key for p in design.parts if p.role == word.replace(" ", "_")]


def _unknown(design: Design, word: str) -> Fault:
    near = difflib.get_close_matches(word.lower(), [part.key for part in design.parts], 4, 0.5)
    expected = f"a part of {design.key}" + (f", such as {', '.join(near)}" if near else "")
    return Fault(
        Place(), f"the part {word!r}", expected, f"`hoistwright strip {design.key}` lists them all."
    )
