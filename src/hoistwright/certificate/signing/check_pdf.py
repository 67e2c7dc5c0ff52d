"""The signature of a paper, checked offline: whole, unchanged, by whom, when, trusted or not."""

from __future__ import annotations

import datetime
import hashlib
import io
import logging
from typing import TYPE_CHECKING, Any

import attrs

from hoistwright.certificate.signing.bounds import unpacking_fault
from hoistwright.certificate.signing.contents import hash_of, record_of
from hoistwright.certificate.signing.coverage import added_after, shape_fault, whole_signature
from hoistwright.certificate.signing.findings import Found
from hoistwright.certificate.signing.names import name_of, organisation_of
from hoistwright.certificate.signing.outside_loop import outside_loop
from hoistwright.certificate.signing.sign_pdf import as_asn1
from hoistwright.certificate.signing.trust import Trust, issued

if TYPE_CHECKING:
    from cryptography import x509

# What the library makes of a stranger's key is told as an outcome, never as a traceback on the
# screen; a program with a log of its own still gets it.
logging.getLogger("pyhanko").addHandler(logging.NullHandler())

_TAIL = 64
"""Bytes at the end of a file in which its end mark must stand."""


@attrs.frozen(eq=False)
class SignatureCheck:
    """What a file says of itself. `record` is None where the file is none of ours."""

    found: tuple[Found, ...] = ()
    record: bytes | None = None
    signer: x509.Certificate | None = None
    signed_at: datetime.datetime | None = None
    stamped_at: datetime.datetime | None = None


def check_pdf(data: bytes, trust: Trust, today: datetime.date) -> SignatureCheck:
    """Check everything that needs no knowledge of what the record says."""
    if not data.startswith(b"%PDF-"):
        return _only("not ours", "It is no PDF.")
    fault = unpacking_fault(data)
    if fault:
        return _only("not ours", f"It is no paper of Hoistwright: {fault}.")
    try:
        return _checked(data, trust, today)
    except Exception as error:  # whatever a broken file does to its reader
        return _broken(data, error)


def _checked(data: bytes, trust: Trust, today: datetime.date) -> SignatureCheck:
    from pyhanko.pdf_utils.reader import PdfFileReader

    reader = PdfFileReader(io.BytesIO(data))
    record = record_of(reader)
    if record is None:
        return _only("not ours", "It is a PDF, but no paper of Hoistwright: no record is attached.")
    signatures = list(reader.embedded_signatures)
    if not signatures:
        return SignatureCheck(
            (Found("not signed", "It is not signed: a draft, or cut off before its signature."),),
            record,
        )
    der, fault = whole_signature(data)
    fault = fault or shape_fault(der)
    if len(signatures) > 1 or fault:
        text = fault or f"it holds {len(signatures)} signatures; expected one"
        return SignatureCheck((Found("changed", f"Changed after signing: {text}."),), record)
    found = _same_record(record, hash_of(reader))
    return _signature(signatures[0], record, found, trust, today)


def _same_record(record: bytes, stated: str) -> list[Found]:
    actual = hashlib.sha256(record).hexdigest()
    if actual == stated:
        return []
    text = (
        f"The attached record does not belong to this paper: its hash is {actual[:16]}…, the "
        f"paper states {stated[:16] + '…' if stated else 'none'}."
    )
    return [Found("swapped record", text)]


def _signature(
    embedded: Any, record: bytes, found: list[Found], trust: Trust, today: datetime.date
) -> SignatureCheck:
    from cryptography import x509
    from pyhanko.sign.validation import validate_pdf_signature

    own = x509.load_der_x509_certificate(embedded.signer_cert.dump())
    said = embedded.self_reported_timestamp
    signed_at = said if isinstance(said, datetime.datetime) else None
    status = outside_loop(
        lambda: validate_pdf_signature(
            embedded, _context(trust, own, signed_at), _context(trust, None, None), skip_diff=True
        )
    )
    fits = status.intact and status.valid
    if not fits:  # nothing that hangs on the signature can be said then
        found.append(Found("changed", "Changed after signing: the signature does not fit."))
    found += _others(embedded, own, trust)
    if fits and not status.trusted:
        found.append(Found("signer not trusted", _untrusted(own, trust)))
    stamped_at, words = _stamp(status)
    found += words
    found += _in_date(own, stamped_at or signed_at, stamped_at, today)
    return SignatureCheck(tuple(found), record, own, signed_at, stamped_at)


def _context(trust: Trust, own: x509.Certificate | None, at: datetime.datetime | None) -> Any:
    """Whom the library may trust; it never fetches anything.

    A key out of date is told apart from one that nobody vouches for: so the chain is looked at
    on a day on which the key was in date.
    """
    from pyhanko_certvalidator import ValidationContext

    if own is not None:
        start, end = own.not_valid_before_utc, own.not_valid_after_utc
        at = at if at is not None and start <= at <= end else start
    roots = [as_asn1(item) for item in trust.roots]
    return ValidationContext(trust_roots=roots, moment=at, allow_fetching=False)


def _others(embedded: Any, own: x509.Certificate, trust: Trust) -> list[Found]:
    """The certificates that came along must be genuine, though the signature does not hold them."""
    from cryptography import x509

    along = [x509.load_der_x509_certificate(c.dump()) for c in embedded.other_embedded_certs]
    for item in along:
        if not any(issued(item, above) for above in (*along, *trust.roots)):
            text = f"the certificate of {name_of(item)} in the file is not genuine"
            return [Found("changed", f"Changed after signing: {text}.")]
    return []


def _untrusted(own: x509.Certificate, trust: Trust) -> str:
    who = f"{name_of(own)}, {organisation_of(own)}".rstrip(", ")
    if not trust.roots:
        return (
            f"Signed by {who}, says the file itself. Nobody vouches for that yet: give the shop's "
            "public certificate, got from the shop by another way than this file."
        )
    return f"Signed by {who}, for whom the certificate that you trust does not vouch."


def _stamp(status: Any) -> tuple[datetime.datetime | None, list[Found]]:
    stamp = status.timestamp_validity
    if stamp is None:
        return None, []
    at: datetime.datetime = stamp.timestamp
    if not (stamp.intact and stamp.valid):
        return None, [Found("changed", "The time stamp does not fit the signature.")]
    who = stamp.signing_cert.subject.human_friendly
    if not stamp.trusted:
        text = f"Time stamp of {at:%Y-%m-%d %H:%M} UTC by {who}, whom nobody here vouches for."
        return None, [Found("remark", text)]
    return at, [Found("remark", f"Time stamp of {at:%Y-%m-%d %H:%M} UTC by {who}.")]


def _in_date(
    own: x509.Certificate,
    at: datetime.datetime | None,
    stamped_at: datetime.datetime | None,
    today: datetime.date,
) -> list[Found]:
    start, end = own.not_valid_before_utc, own.not_valid_after_utc
    if at is None:
        return [Found("key out of date", "The signature states no time.")]
    if not start <= at <= end:
        text = (
            f"The signing key was not in date: signed on {at:%Y-%m-%d}, the key of "
            f"{name_of(own)} is valid from {start:%Y-%m-%d} to {end:%Y-%m-%d}."
        )
        return [Found("key out of date", text)]
    if stamped_at is None and today > end.date():
        text = (
            f"The signing key ran out on {end:%Y-%m-%d}; that the paper was signed before, on "
            f"{at:%Y-%m-%d}, is the word of the signer: no time stamp proves it."
        )
        return [Found("remark", text)]
    return []


def _broken(data: bytes, error: Exception) -> SignatureCheck:
    """A file that its reader cannot follow: cut off, or changed."""
    if b"%%EOF" not in data[-_TAIL:]:
        return _only("truncated", "The file is cut off: its end is missing. Get it again.")
    if added_after(data):
        return _only("changed", "Changed after signing: something was added at the end.")
    reason = " ".join(str(error).split())[:120] or type(error).__name__
    return _only("unreadable", f"The file is damaged or was changed: it cannot be read ({reason}).")


def _only(code: Any, sentence: str) -> SignatureCheck:
    return SignatureCheck((Found(code, sentence),))
