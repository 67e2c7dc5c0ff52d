"""Whom a reader trusts: the certificates of the shop's public file, got from the shop itself."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import attrs

if TYPE_CHECKING:
    from cryptography import x509
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey


@attrs.frozen(eq=False)
class Trust:
    """Certificates that a reader trusts: those that vouch for signers, and those for codes."""

    roots: tuple[x509.Certificate, ...] = ()
    codes: tuple[x509.Certificate, ...] = ()

    def code_key(self, key_id: bytes) -> Ed25519PublicKey | None:
        """The public key for codes with this number, or None."""
        from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

        keys = (item.public_key() for item in self.codes)
        known = (key for key in keys if isinstance(key, Ed25519PublicKey))
        return next((key for key in known if key_number(key) == key_id), None)


NOBODY = Trust()


def trust_of(certificates: Iterable[x509.Certificate]) -> Trust:
    """Sort the certificates of a public file; a code certificate counts only if a root of the
    same file issued it, or if it issued itself.
    """
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

    given = tuple(certificates)
    roots = tuple(c for c in given if not isinstance(c.public_key(), Ed25519PublicKey))
    codes = tuple(
        c
        for c in given
        if isinstance(c.public_key(), Ed25519PublicKey)
        and any(issued(c, above) for above in (*roots, c))
    )
    return Trust(roots, codes)


def issued(certificate: x509.Certificate, above: x509.Certificate) -> bool:
    """Whether `above` signed `certificate`."""
    from cryptography.exceptions import InvalidSignature

    try:
        certificate.verify_directly_issued_by(above)
    except (ValueError, TypeError, InvalidSignature):
        return False
    return True


def key_number(key: Ed25519PublicKey) -> bytes:
    """The short number by which codes name their key: the first four bytes of its SHA-256."""
    import hashlib

    return hashlib.sha256(key.public_bytes_raw()).digest()[:4]
