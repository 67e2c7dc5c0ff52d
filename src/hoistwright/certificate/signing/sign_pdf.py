"""Signs a finished paper (PAdES): the whole file is covered, and nothing may be added after."""

from __future__ import annotations

import datetime
import io
from typing import TYPE_CHECKING, Any, cast

from hoistwright.certificate.signing.make_keys import SignerKeys
from hoistwright.certificate.signing.names import name_of
from hoistwright.certificate.signing.outside_loop import outside_loop
from hoistwright.certificate.signing.stamps import tidied

if TYPE_CHECKING:
    from pyhanko.sign.timestamps import TimeStamper

FIELD = "Signature"
RESERVED = 8192
"""Bytes kept free for the signature; twice as much again where a time stamp goes in."""


def sign_pdf(
    pdf: bytes, signer: SignerKeys, at: datetime.datetime, *, stamper: TimeStamper | None = None
) -> bytes:
    """The paper with its signature: ECDSA on P-256 with SHA-256, PAdES baseline B-B (B-T).

    Args:
        pdf: the finished paper.
        signer: with key and certificate.
        at: the moment that the signature states, with its time zone.
        stamper: an RFC 3161 time-stamping service; None: no time stamp.

    Raises:
        ValueError: a certificate that is not valid at the moment of signing.
    """
    from pyhanko.sign.fields import MDPPerm, SigSeedSubFilter
    from pyhanko.sign.signers import PdfSignatureMetadata

    check_in_date(signer, at)
    about = PdfSignatureMetadata(
        field_name=FIELD,
        md_algorithm="sha256",
        name=name_of(signer.certificate),
        subfilter=SigSeedSubFilter.PADES,
        certify=True,
        docmdp_permissions=MDPPerm.NO_CHANGES,
    )
    out = _untouched(io.BytesIO(pdf))
    pen = _pen(about, signer, at, stamper)
    room = RESERVED * (3 if stamper else 1)
    signed: io.BytesIO = outside_loop(lambda: pen.sign_pdf(out, bytes_reserved=room))
    return signed.getvalue()


def time_stamper(url: str) -> TimeStamper:
    """The time-stamping service at an address. Nothing else is ever fetched."""
    from pyhanko.sign.timestamps import HTTPTimeStamper

    return HTTPTimeStamper(url, timeout=20)


def check_in_date(signer: SignerKeys, at: datetime.datetime) -> None:
    """Raise ValueError where the certificate is not valid at `at`."""
    own = signer.certificate
    if not own.not_valid_before_utc <= at <= own.not_valid_after_utc:
        raise ValueError(
            f"the signing key of {name_of(own)} is valid from {own.not_valid_before_utc:%Y-%m-%d} "
            f"to {own.not_valid_after_utc:%Y-%m-%d}; expected a key in date on {at:%Y-%m-%d}. "
            "Check the clock, or make a new key: `hoistwright keys make --person`."
        )


def _pen(about: Any, signer: SignerKeys, at: datetime.datetime, stamper: TimeStamper | None) -> Any:
    from pyhanko.sign.signers import PdfSigner

    class Pen(PdfSigner):
        """The library's signer, with the moment given instead of read from the clock."""

        def init_signing_session(self, *args: Any, **more: Any) -> Any:
            session = super().init_signing_session(*args, **more)
            session.system_time = at
            return session

    return Pen(about, _simple(signer), timestamper=tidied(stamper) if stamper else None)


def _untouched(file: io.BytesIO) -> Any:
    """The library's writer, which leaves alone what the typesetter stated about the paper."""
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter

    class Writer(IncrementalPdfFileWriter):
        def _update_meta(self) -> None:
            """The clock of this machine has no place in the paper."""

        def ensure_output_version(self, version: Any) -> None:
            """PDF/A-3 rests on PDF 1.7, and what is signed is readable by readers of 1.7."""

        def register_extension(self, ext: Any) -> None:
            """Nothing of ours needs an extension of PDF."""

    return Writer(file)


def _simple(signer: SignerKeys) -> Any:
    from asn1crypto.keys import PrivateKeyInfo
    from cryptography.hazmat.primitives.serialization import (
        Encoding,
        NoEncryption,
        PrivateFormat,
    )
    from pyhanko.sign import SimpleSigner
    from pyhanko_certvalidator.registry import SimpleCertificateStore

    key = signer.key.private_bytes(Encoding.DER, PrivateFormat.PKCS8, NoEncryption())
    store = cast(Any, SimpleCertificateStore)()
    store.register_multiple([as_asn1(item) for item in signer.above])
    return SimpleSigner(as_asn1(signer.certificate), PrivateKeyInfo.load(key), store)


def as_asn1(certificate: Any) -> Any:
    """The same certificate as the signature library knows it."""
    from asn1crypto.x509 import Certificate
    from cryptography.hazmat.primitives.serialization import Encoding

    return Certificate.load(certificate.public_bytes(Encoding.DER))
