"""The register of certificates: what was issued, revised and withdrawn, signed by the shop.

It is a JSON file of the shop. Whoever has it beside a certificate learns whether that still
stands; whoever changes it breaks its signature.
"""

from __future__ import annotations

import base64
import datetime
import json
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Literal

import attrs

from hoistwright.certificate.signing.trust import Trust, key_number

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

FORMAT = 1
What = Literal["issued", "withdrawn"]


class RegisterError(ValueError):
    """A register that cannot be used; the message says why."""


@attrs.frozen(kw_only=True)
class RegisterEntry:
    """One line: a certificate issued, or withdrawn. `file_sha256` is that of the certificate."""

    what: What
    number: str
    revision: int
    at: datetime.datetime
    file_sha256: str
    signer: str
    job: str = ""
    serial: str = ""
    decision: str = ""
    next_due: str = ""
    reason: str = ""


@attrs.frozen(kw_only=True)
class Register:
    """All lines, in the order in which they were made."""

    shop: str
    entries: tuple[RegisterEntry, ...] = ()

    @property
    def as_of(self) -> datetime.datetime | None:
        """The moment of the last line."""
        return self.entries[-1].at if self.entries else None

    def with_entry(self, entry: RegisterEntry) -> Register:
        """The register with one more line."""
        return attrs.evolve(self, entries=(*self.entries, entry))

    def issues(self, number: str) -> tuple[RegisterEntry, ...]:
        """The revisions issued under a number, in order."""
        return tuple(e for e in self.entries if e.what == "issued" and e.number == number)

    def issue_of(self, file_sha256: str) -> RegisterEntry | None:
        """The line of a certificate's own file."""
        found = (e for e in self.entries if e.what == "issued" and e.file_sha256 == file_sha256)
        return next(found, None)

    def withdrawal_of(self, number: str, revision: int) -> RegisterEntry | None:
        found = (e for e in self.entries if e.what == "withdrawn" and e.number == number)
        return next((e for e in found if e.revision == revision), None)

    def next_number(self, prefix: str, year: int) -> str:
        """The next free number: `KQ-2026-0001`, `KQ-2026-0002`, …

        >>> Register(shop="Kittiwake Quay Lifting Works").next_number("KQ", 2026)
        'KQ-2026-0001'
        """
        start = f"{prefix}-{year}-"
        used = [e.number.removeprefix(start) for e in self.entries if e.number.startswith(start)]
        highest = max((int(word) for word in used if word.isdecimal()), default=0)
        return f"{start}{highest + 1:04d}"


def register_bytes(register: Register, key: Ed25519PrivateKey) -> bytes:
    """The register as a file, signed by the shop's key for codes."""
    body = _body(register, key_number(key.public_key()).hex())
    signature = base64.b64encode(key.sign(_canonical(body))).decode("ascii")
    text = json.dumps({**body, "signature": signature}, ensure_ascii=False, indent=1)
    return f"{text}\n".encode()


def read_register(data: bytes, trust: Trust) -> Register:
    """The register in a file, its signature checked.

    Raises:
        RegisterError: no register, changed, or signed by nobody who is trusted.
    """
    from cryptography.exceptions import InvalidSignature

    try:
        body = json.loads(data)
        signature = base64.b64decode(body.pop("signature"), validate=True)
        key = trust.code_key(bytes.fromhex(body["key"]))
        register = _read(body)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        raise RegisterError("The register cannot be read: damaged, or no register.") from error
    if key is None:
        raise RegisterError("The register is signed by nobody whom your shop certificate names.")
    try:
        key.verify(signature, _canonical(body))
    except InvalidSignature:
        raise RegisterError("The register was changed: its signature does not fit.") from None
    return register


def _body(register: Register, key: str) -> dict[str, Any]:
    entries = []
    for entry in register.entries:
        item = attrs.asdict(entry)
        item["at"] = entry.at.isoformat()
        entries.append(item)
    return {"format": FORMAT, "shop": register.shop, "key": key, "entries": entries}


def _read(body: Mapping[str, Any]) -> Register:
    if body["format"] != FORMAT:
        raise ValueError(f"format {body['format']}")
    entries = tuple(
        RegisterEntry(**{**item, "at": datetime.datetime.fromisoformat(item["at"])})
        for item in body["entries"]
    )
    return Register(shop=body["shop"], entries=entries)


def _canonical(body: Mapping[str, Any]) -> bytes:
    text = json.dumps(
        body, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False
    )
    return text.encode()
