"""Time stamps in one form only, so that a byte changed in one is found.

The wrapping of a time stamp (RFC 3161, RFC 5652) holds versions, names of algorithms and
certificates that its own signature does not protect. So it is written again in one form as it
comes in, and must stand in that form when it is verified. What its service signed stays as it is.
"""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING, Any, cast

from hoistwright.certificate.signing.trust import issued

if TYPE_CHECKING:
    from pyhanko.sign.timestamps import TimeStamper

_KINDS = {"rsassa_pkcs1v15": "rsa", "ecdsa": "ecdsa"}


def tidy(token: Any) -> Any:
    """The token in our form: nothing that is not protected, but for what can be checked.

    Raises:
        ValueError: several signers, or a signer whose certificate is not in the token.
    """
    from asn1crypto import algos, cms

    signed = token["content"]
    infos = signed["signer_infos"]
    if len(infos) != 1:
        raise ValueError(f"a time stamp with {len(infos)} signers; expected one")
    info = infos[0]
    digest = algos.DigestAlgorithm({"algorithm": info["digest_algorithm"]["algorithm"].native})
    own, kept = _certificates(signed, info)
    signer = cms.IssuerAndSerialNumber({"issuer": own.issuer, "serial_number": own.serial_number})
    parts = {
        "version": "v1",
        "sid": cms.SignerIdentifier({"issuer_and_serial_number": signer}),
        "digest_algorithm": digest,
        "signed_attrs": info["signed_attrs"],
        "signature_algorithm": _algorithm(info),
        "signature": info["signature"].native,
    }
    whole = {
        "version": "v3",
        "digest_algorithms": [digest],
        "encap_content_info": signed["encap_content_info"],
        "certificates": kept,
        "signer_infos": [cms.SignerInfo(parts)],
    }
    return cms.ContentInfo({"content_type": "signed_data", "content": cms.SignedData(whole)})


def stamp_fault(token: Any) -> str:
    """Why a time stamp is not in our form; empty if it is."""
    try:
        again = tidy(token).dump()
    except (ValueError, TypeError, KeyError, StopIteration):
        return "the time stamp cannot be read"
    return "" if again == token.dump() else "the time stamp is not in the form that we write"


def tidied(inner: TimeStamper) -> TimeStamper:
    """The same service, its stamps in our form."""
    from pyhanko.sign.timestamps import TimeStamper as Base

    class Tidy(Base):
        async def async_timestamp(self, message_digest: Any, md_algorithm: Any) -> Any:
            return tidy(await inner.async_timestamp(message_digest, md_algorithm))

        async def async_request_tsa_response(self, req: Any) -> Any:
            return await inner.async_request_tsa_response(req)

    return cast(Any, Tidy)()  # type: ignore[no-any-return]


def _algorithm(info: Any) -> Any:
    """One name for the same: some services write "RSA", some "RSA with SHA-256"."""
    from asn1crypto import algos

    stated = info["signature_algorithm"]
    kind = _KINDS.get(stated.signature_algo)
    if kind is None:
        return stated
    name = f"{info['digest_algorithm']['algorithm'].native}_{kind}"
    return algos.SignedDigestAlgorithm({"algorithm": name})


def _certificates(signed: Any, info: Any) -> tuple[Any, list[Any]]:
    """The signer's certificate, and the certificates that can be checked within the token."""
    from cryptography import x509

    given = [choice.chosen for choice in signed["certificates"]]
    hashes = _stated_hashes(info)
    own = next(item for item in given if _hash_of(item) & hashes)
    loaded = {item.dump(): x509.load_der_x509_certificate(item.dump()) for item in given}
    kept = [
        item
        for item in given
        if item is own or any(issued(loaded[item.dump()], up) for up in loaded.values())
    ]
    return own, kept


def _stated_hashes(info: Any) -> set[bytes]:
    """The hashes of its certificate that the signer signed along (RFC 5035)."""
    found = set()
    for attribute in info["signed_attrs"]:
        if attribute["type"].native in {"signing_certificate", "signing_certificate_v2"}:
            found.add(attribute["values"][0]["certs"][0]["cert_hash"].native)
    return found


def _hash_of(certificate: Any) -> set[bytes]:
    data = certificate.dump()
    return {hashlib.new(name, data).digest() for name in ("sha1", "sha256", "sha384", "sha512")}
