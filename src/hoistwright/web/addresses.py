"""Names of jobs and hoists as parts of an address: any text, always one part."""

from __future__ import annotations

import re

_PLAIN = re.compile(rb"[A-Za-z0-9_-]")
_CODED = re.compile(rb"~([0-9A-F]{2})")


def as_part(text: str) -> str:
    """`text` as one part of an address: letters, digits, dashes; the rest as ~ and hexadecimal.

    >>> as_part("KQ/26 n°1")
    'KQ~2F26~20n~C2~B01'
    """
    data = text.encode("utf-8", "replace")
    return "".join(chr(byte) if _PLAIN.match(bytes([byte])) else f"~{byte:02X}" for byte in data)


def from_part(part: str) -> str:
    """The text of a part; a part that somebody typed by hand is taken as it stands.

    >>> from_part(as_part("../é?"))
    '../é?'
    """
    data = part.encode("utf-8", "replace")
    return _CODED.sub(lambda m: bytes.fromhex(m[1].decode()), data).decode("utf-8", "replace")
