"""Names in certificates: whose they are, for people."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cryptography import x509


def name_of(certificate: x509.Certificate) -> str:
    """The common name, else the whole distinguished name."""
    from cryptography.x509.oid import NameOID

    return _first(certificate, NameOID.COMMON_NAME) or certificate.subject.rfc4514_string()


def organisation_of(certificate: x509.Certificate) -> str:
    """The organisation; empty where none is stated."""
    from cryptography.x509.oid import NameOID

    return _first(certificate, NameOID.ORGANIZATION_NAME)


def person_of(certificate: x509.Certificate) -> str:
    """The person's key in the shop file; empty in certificates that others made."""
    from cryptography.x509.oid import NameOID

    return _first(certificate, NameOID.USER_ID)


def title_of(certificate: x509.Certificate) -> str:
    """The title, which in our own certificates gives the right to sign."""
    from cryptography.x509.oid import NameOID

    return _first(certificate, NameOID.TITLE)


def fingerprint_of(certificate: x509.Certificate) -> str:
    """SHA-256 of the whole certificate, in groups of four."""
    from cryptography.hazmat.primitives import hashes

    text = certificate.fingerprint(hashes.SHA256()).hex()
    return " ".join(text[at : at + 4] for at in range(0, len(text), 4))


def _first(certificate: x509.Certificate, oid: x509.ObjectIdentifier) -> str:
    found = certificate.subject.get_attributes_for_oid(oid)
    return str(found[0].value) if found else ""
