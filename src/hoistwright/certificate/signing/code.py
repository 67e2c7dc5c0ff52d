"""The code on paper and tag: the essentials in plain text, signed, short enough for a small square.

    ["HW1","KQ-0042",0,"released","A 40117",2000,"2026-03-09","2027-03-08","…","…"]~signature

Canonical JSON (no spaces, UTF-8), then an Ed25519 signature (RFC 8032) of exactly those bytes in
base64url (RFC 4648) without padding. Anybody can read it with a telephone; whoever has the
shop's public file can prove it, offline.
"""

from __future__ import annotations

import base64
import datetime
import json
import math
from typing import TYPE_CHECKING, Any

import attrs

from hoistwright.certificate.signing.trust import Trust, key_number

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

FORMAT = "HW1"
HASH_BYTES = 16
"""Of the SHA-256 of the record; 128 bits leave no second record to be found."""
LONGEST = 1200
"""Characters of a code that is looked at at all."""

_FIELDS = 10


class CodeError(ValueError):
    """A text that is no code of ours; the message says why."""


@attrs.frozen(kw_only=True)
class Essentials:
    """What a code carries. `rated_load` in kg; `record` is the hash, shortened."""

    number: str
    revision: int
    decision: str
    serial: str
    rated_load: float
    examined_on: datetime.date
    next_due: datetime.date | None
    record: bytes


def make_code(essentials: Essentials, key: Ed25519PrivateKey) -> str:
    """The text of the code, signed. The same input gives the same text.

    Raises:
        ValueError: a rated load that is no finite figure of kg.
    """
    said = _said(essentials, key_number(key.public_key()))
    return f"{said}~{_text(key.sign(said.encode()))}"


def read_code(text: str) -> tuple[Essentials, bytes, bytes, bytes]:
    """Essentials, number of the key, the bytes that are signed, and the signature.

    Raises:
        CodeError: no code of ours.
    """
    text = text.strip()
    if len(text) > LONGEST or not text.startswith(f'["{FORMAT}",'):
        raise CodeError("It is no code of Hoistwright.")
    said, _, signature = text.rpartition("~")
    try:
        fields = json.loads(said)
        return _read(fields), _bytes(fields[9], 4), said.encode(), _bytes(signature, 64)
    except (ValueError, TypeError, IndexError, RecursionError) as error:
        raise CodeError("The code is damaged or was changed: it cannot be read.") from error


def signed_by(text: str, trust: Trust) -> bool | None:
    """Whether the signature fits; None where nobody that is trusted has this key.

    Raises:
        CodeError: no code of ours.
    """
    from cryptography.exceptions import InvalidSignature

    essentials, number, said, signature = read_code(text)
    key = trust.code_key(number)
    if key is None:
        return None
    try:
        key.verify(signature, said)
    except InvalidSignature:
        return False
    return _said(essentials, number).encode() == said


def _said(item: Essentials, number: bytes) -> str:
    if not (math.isfinite(item.rated_load) and item.rated_load >= 0):
        raise ValueError(f"rated load: given {item.rated_load}; expected kg, 0 or more.")
    load = round(item.rated_load, 3)
    fields: list[Any] = [
        FORMAT, item.number, item.revision, item.decision, item.serial,
        int(load) if load == int(load) else load,
        item.examined_on.isoformat(), item.next_due.isoformat() if item.next_due else "",
        _text(item.record[:HASH_BYTES]), _text(number),
    ]  # fmt: skip
    return json.dumps(fields, ensure_ascii=False, separators=(",", ":"), allow_nan=False)


def _read(fields: Any) -> Essentials:
    if not isinstance(fields, list) or len(fields) != _FIELDS:
        raise ValueError(f"expected a list of {_FIELDS}")
    kinds: tuple[Any, ...] = (str, str, int, str, str, int | float, str, str, str, str)
    pairs = zip(fields, kinds, strict=True)
    if not all(isinstance(item, kind) and not isinstance(item, bool) for item, kind in pairs):
        raise ValueError("a field of another kind")
    due = fields[7]
    return Essentials(
        number=fields[1],
        revision=fields[2],
        decision=fields[3],
        serial=fields[4],
        rated_load=float(fields[5]),
        examined_on=datetime.date.fromisoformat(fields[6]),
        next_due=datetime.date.fromisoformat(due) if due else None,
        record=_bytes(fields[8], HASH_BYTES),
    )


def _text(data: bytes) -> str:
    return base64.urlsafe_b64encode(data).rstrip(b"=").decode("ascii")


def _bytes(text: str, size: int) -> bytes:
    """Exactly `size` bytes, written in the one way in which we write them."""
    data = base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))
    if len(data) != size or _text(data) != text:
        raise ValueError(f"expected {size} bytes")
    return data
