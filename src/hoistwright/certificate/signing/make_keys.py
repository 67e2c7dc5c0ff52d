"""Makes the shop's own certificates: a root of the shop, a key for its codes, one for each signer.

Keys stay in memory here; `key_files` writes them, encrypted.
"""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING, Any

import attrs

if TYPE_CHECKING:
    from cryptography import x509
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

ROOT_YEARS = 15
"""Longer than the longest time a report is kept that the rules of the trade speak of by years."""
SIGNER_YEARS = 3
COMPETENT = "competent person"
"""Stands as title in the certificate of everybody who may sign a release."""


@attrs.frozen(eq=False)
class ShopKeys:
    """The shop's root and the key of its codes, each with its certificate."""

    root_key: EllipticCurvePrivateKey = attrs.field(repr=False)
    root: x509.Certificate
    code_key: Ed25519PrivateKey = attrs.field(repr=False)
    code: x509.Certificate


@attrs.frozen(eq=False)
class SignerKeys:
    """What a person signs with: a key, its certificate, and the certificates above it."""

    key: EllipticCurvePrivateKey = attrs.field(repr=False)
    certificate: x509.Certificate
    above: tuple[x509.Certificate, ...] = ()


def make_shop_keys(shop: str, day: datetime.date) -> ShopKeys:
    """A root (ECDSA on P-256) and a key for codes (Ed25519), valid from `day`."""
    from cryptography.hazmat.primitives.asymmetric import ec, ed25519

    root_key = ec.generate_private_key(ec.SECP256R1())
    name = _name(shop, shop)
    root = _built(
        name,
        name,
        root_key.public_key(),
        root_key,
        day,
        ROOT_YEARS,
        authority=True,
        documents=False,
    )
    code_key = ed25519.Ed25519PrivateKey.generate()
    code = _built(
        _name(shop, f"Codes of {shop}"), name, code_key.public_key(), root_key, day, ROOT_YEARS,
        documents=False,
    )  # fmt: skip
    return ShopKeys(root_key, root, code_key, code)


def make_signer_keys(
    keys: ShopKeys, shop: str, person: str, name: str, day: datetime.date, years: int = SIGNER_YEARS
) -> SignerKeys:
    """A signing key for a competent person of the shop; the shop's root vouches for it.

    Args:
        keys: of the shop.
        shop: its name.
        person: key of the person in the shop file.
        name: as it is to stand on certificates.
        day: first day of validity.
        years: of validity; never beyond that of the root.
    """
    from cryptography.hazmat.primitives.asymmetric import ec

    key = ec.generate_private_key(ec.SECP256R1())
    subject = _name(shop, name, person)
    certificate = _built(
        subject, keys.root.subject, key.public_key(), keys.root_key, day, years,
        until=keys.root.not_valid_after_utc,
    )  # fmt: skip
    return SignerKeys(key, certificate, (keys.root,))


def _name(shop: str, name: str, person: str = "") -> x509.Name:
    """A distinguished name. X.520 allows 64 characters in each part."""
    from cryptography import x509
    from cryptography.x509.oid import NameOID

    parts = [(NameOID.ORGANIZATION_NAME, shop[:64]), (NameOID.COMMON_NAME, name[:64])]
    if person:
        parts += [(NameOID.TITLE, COMPETENT), (NameOID.USER_ID, person)]
    return x509.Name([x509.NameAttribute(oid, text) for oid, text in parts])


def _built(
    subject: x509.Name,
    issuer: x509.Name,
    public: Any,
    key: EllipticCurvePrivateKey,
    day: datetime.date,
    years: int,
    *,
    until: datetime.datetime | None = None,
    authority: bool = False,
    documents: bool = True,
) -> x509.Certificate:
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes
    from cryptography.x509.oid import ObjectIdentifier

    start = datetime.datetime(day.year, day.month, day.day, tzinfo=datetime.UTC)
    end = start + datetime.timedelta(days=round(365.25 * years))
    own = x509.SubjectKeyIdentifier.from_public_key(public)
    builder = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(public)
        .serial_number(x509.random_serial_number())
        .not_valid_before(start)
        .not_valid_after(end if until is None else min(end, until))
        .add_extension(x509.BasicConstraints(authority, 0 if authority else None), critical=True)
        .add_extension(_usage(authority, documents), critical=True)
        .add_extension(own, critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(key.public_key()), critical=False
        )
    )
    if documents:  # document signing, RFC 9336
        use = x509.ExtendedKeyUsage([ObjectIdentifier("1.3.6.1.5.5.7.3.36")])
        builder = builder.add_extension(use, critical=False)
    return builder.sign(key, hashes.SHA256())


def _usage(authority: bool, documents: bool) -> x509.KeyUsage:
    """Bits of RFC 5280, 4.2.1.3: a root signs certificates, a signer documents."""
    from cryptography import x509

    return x509.KeyUsage(
        digital_signature=not authority,
        content_commitment=documents,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=authority,
        crl_sign=authority,
        encipher_only=False,
        decipher_only=False,
    )
