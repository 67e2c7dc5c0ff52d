"""Whether a file may be unpacked at all: a small file can hold more than a machine's memory.

The check page takes files of anybody. Before a reader of PDF files sees one, each packed stream
in it is unpacked here, but no further than any paper of ours would go.
"""

from __future__ import annotations

import re
import zlib

MOST = 48_000_000
"""Bytes that all streams of a file may come to; a paper of ours has about one million."""

_STREAM = re.compile(rb"(?<!end)stream[ \t]*\r?\n?")
_FILTERS = re.compile(rb"/Filter\s*(\[[^\]]*\]|/\w+)")
_ENDS = re.compile(rb">>\s*(%[^\r\n]*\s*)*\Z")
"""A description is at its end; remarks may follow."""
_ESCAPED = re.compile(rb"#([0-9A-Fa-f]{2})")
_KNOWN = (b"/FlateDecode", b"/DCTDecode")


def unpacking_fault(data: bytes, most: int = MOST) -> str:
    """Why a file is not to be unpacked; empty if it may be.

    A stream may be packed once, in one of the ways in which ours are.
    """
    left = most
    for found in _STREAM.finditer(data):
        head = _head(data, found.start())
        if not _ENDS.search(head):
            continue  # the word within a text
        packed = _FILTERS.findall(head)
        names = [name for item in packed for name in re.findall(rb"/\w+", item)]
        if len(names) > 1 or any(name not in _KNOWN for name in names):
            return "a part of it is packed in a way in which none of ours is"
        left -= _size(data, found.end(), left)
        if left <= 0:
            return f"it would unpack to more than {most:,} bytes"
    return ""


def _head(data: bytes, end: int) -> bytes:
    """The description of a stream, from the last `obj` before it; escaped names read as meant."""
    start = data.rfind(b" obj", 0, end)
    head = data[max(start, 0) : end]
    return _ESCAPED.sub(lambda m: bytes.fromhex(m[1].decode()), head)


def _size(data: bytes, start: int, most: int) -> int:
    """Bytes that a stream unpacks to, `most` at most; 0 for what is not packed."""
    unpacker, size = zlib.decompressobj(), 0
    view = memoryview(data)[start:]
    try:
        while len(view) and size < most and not unpacker.eof:
            piece = unpacker.decompress(view[:65536], min(most - size + 1, 1 << 20))
            size += len(piece)
            tail = unpacker.unconsumed_tail
            view = view[min(65536, len(view)) - len(tail) :]
    except zlib.error:
        return size
    return size
