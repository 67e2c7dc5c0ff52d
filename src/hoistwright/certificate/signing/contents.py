"""What is inside a paper of ours: the attached record, and the hash that the paper states of it."""

from __future__ import annotations

import io
import re
from typing import Any

RECORD = "hoistwright-record.json"
"""Name of the attachment."""

_STATED = re.compile(r"record sha256 ([0-9a-f]{64})")


def stated_hash(sha256: str) -> str:
    """How a paper states the hash of its record among its keywords."""
    return f"record sha256 {sha256}"


def record_of(reader: Any) -> bytes | None:
    """The attached record; None where there is none. `reader` is that of the library."""
    try:
        names = reader.root["/Names"]["/EmbeddedFiles"]["/Names"]
    except KeyError:
        return None
    for at in range(0, len(names) - 1, 2):
        if str(names[at]) == RECORD:
            data: bytes = names[at + 1]["/EF"]["/F"].data
            return data
    return None


def record_in(pdf: bytes) -> bytes | None:
    """The record attached to a paper of ours, nothing of it checked; None where there is none."""
    from pyhanko.pdf_utils.reader import PdfFileReader

    return record_of(PdfFileReader(io.BytesIO(pdf)))


def hash_of(reader: Any) -> str:
    """The hash of the record that the paper states; empty where it states none."""
    try:
        words = str(reader.trailer_view["/Info"]["/Keywords"])
    except KeyError:
        return ""
    found = _STATED.search(words)
    return found.group(1) if found else ""
