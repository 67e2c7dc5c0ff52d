"""What exactly a shop adopts: a digest over a basis's files."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping

from hoistwright.basis.model import Source


def digest_of(files: Mapping[str, str], sources: Iterable[Source] = ()) -> str:
    """SHA-256 over the files by sorted name, and over the sources that they lean on.

    Line endings and a byte order mark do not count, so a copy made on another machine has
    the same digest. Each piece is hashed with its length: text cannot move between files.
    The sources count because a limit read under another title is another limit.
    """
    told = hashlib.sha256()
    for name in sorted(files):
        _add(told, name)
        _add(told, normal(files[name]))
    for source in sorted(sources, key=lambda item: item.key):
        for text in (source.key, source.title, source.issuer, source.note):
            _add(told, text)
    return told.hexdigest()


def normal(text: str) -> str:
    """`text` with plain line feeds and no byte order mark."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")


def _add(told: hashlib._Hash, text: str) -> None:
    data = text.encode("utf-8")
    told.update(f"{len(data)}:".encode("ascii"))
    told.update(data)
