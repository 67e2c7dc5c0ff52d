"""Issues and withdraws certificates: checks that it may be done, signs, enters in the register.

Bytes and values in, bytes and values out; nothing is written here.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

import attrs

from hoistwright.certificate.release.record import (
    certificate_record,
    record_bytes,
    sha256,
    signatory_of,
    withdrawal_record,
)
from hoistwright.certificate.release.register import Register, RegisterEntry
from hoistwright.certificate.release.render import Lang, Paper, render
from hoistwright.certificate.release.rules import may_sign, objections
from hoistwright.certificate.release.values import Certificate, Signatory, Withdrawal
from hoistwright.certificate.release.verify import verify
from hoistwright.certificate.signing.code import Essentials, make_code
from hoistwright.certificate.signing.make_keys import SignerKeys
from hoistwright.certificate.signing.names import name_of, person_of
from hoistwright.certificate.signing.sign_pdf import check_in_date, sign_pdf
from hoistwright.faults import Fault, FaultsError, Place

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
    from pyhanko.sign.timestamps import TimeStamper

    from hoistwright.certificate.signing.trust import Trust
    from hoistwright.examine.result import Examination
    from hoistwright.job.job_sheet import JobSheet
    from hoistwright.job.shop import Shop

STILL_OURS = ("valid", "key out of date", "no right", "clock", "superseded")
"""What may be withdrawn: also a paper that should not have been signed."""

CODE_WORDS = {
    "released": "released",
    "released with lower rated load": "lower load",
    "returned unrepaired": "unrepaired",
    "condemned": "condemned",
}
"""The decision as the code says it."""


@attrs.frozen(kw_only=True, eq=False)
class Pens:
    """What is signed with: a person's key, the shop's key for codes, a time stamp if wanted."""

    signer: SignerKeys
    code_key: Ed25519PrivateKey = attrs.field(repr=False)
    stamper: TimeStamper | None = None


@attrs.frozen(kw_only=True)
class Issued:
    """A signed paper. `register` holds the new line."""

    pdf: bytes = attrs.field(repr=False)
    record: bytes = attrs.field(repr=False)
    sha256: str
    code: str
    register: Register


def issue(
    certificate: Certificate,
    examination: Examination,
    sheet: JobSheet,
    shop: Shop,
    pens: Pens,
    register: Register,
    at: datetime.datetime,
    *,
    lang: Lang = "en",
    paper: Paper = "a4",
) -> Issued:
    """Make, sign and register a certificate.

    Args:
        certificate: what it states; `missing` from the release rule.
        examination: what was found.
        sheet: the job sheet with identity and readings.
        shop: for its name, people and gauges.
        pens: keys.
        register: before this issue.
        at: now, with its time zone.
        lang: language of the paper.
        paper: its size.

    Raises:
        FaultsError: everything that forbids it, at once: what the release rule misses,
            contradictions, a signer without the right, a key out of date, a clock set back.
    """
    found = hindrances(certificate, examination, sheet, pens, register, at)
    found += _number(certificate, register)
    _refuse(found, f"certificate {certificate.number}")
    record = certificate_record(certificate, examination, sheet, shop)
    written = record_bytes(record)
    code = code_of(record, pens.code_key, sha256(written))
    paper_made = render(record, code=code, lang=lang, paper=paper, written=written)
    pdf = sign_pdf(paper_made, pens.signer, at, stamper=pens.stamper)
    entry = RegisterEntry(
        what="issued",
        number=certificate.number,
        revision=certificate.revision,
        at=at,
        file_sha256=sha256(pdf),
        signer=certificate.authenticated_by.name,
        job=sheet.job,
        serial=sheet.hoist.serial,
        decision=certificate.decision,
        next_due=certificate.next_due.day.isoformat() if certificate.next_due else "",
        reason=certificate.supersedes.reason if certificate.supersedes else "",
    )
    return Issued(
        pdf=pdf,
        record=written,
        sha256=entry.file_sha256,
        code=code,
        register=register.with_entry(entry),
    )


def hindrances(
    certificate: Certificate,
    examination: Examination,
    sheet: JobSheet,
    pens: Pens,
    register: Register,
    at: datetime.datetime,
) -> list[str]:
    """Everything that forbids to sign this certificate with these keys now, but its number."""
    return [
        *objections(certificate, examination, sheet),
        *_signing(certificate.authenticated_by, pens.signer, at),
        *_clock(certificate.issued_on, register, at),
    ]


def withdraw(
    withdrawal: Withdrawal,
    shop: Shop,
    pens: Pens,
    register: Register,
    at: datetime.datetime,
    *,
    lang: Lang = "en",
    paper: Paper = "a4",
) -> Issued:
    """Make, sign and register a withdrawal. Raises FaultsError as `issue` does."""
    found = [
        *_withdrawal(withdrawal, register),
        *_signing(withdrawal.by, pens.signer, at),
        *_clock(withdrawal.withdrawn_on, register, at),
    ]
    _refuse(found, f"withdrawal of {withdrawal.number}")
    record = withdrawal_record(withdrawal, shop)
    pdf = sign_pdf(render(record, lang=lang, paper=paper), pens.signer, at, stamper=pens.stamper)
    entry = RegisterEntry(
        what="withdrawn",
        number=withdrawal.number,
        revision=withdrawal.revision,
        at=at,
        file_sha256=withdrawal.file_sha256,
        signer=withdrawal.by.name,
        serial=withdrawal.serial,
        reason=withdrawal.reason,
    )
    return Issued(
        pdf=pdf,
        record=record_bytes(record),
        sha256=sha256(pdf),
        code="",
        register=register.with_entry(entry),
    )


def withdrawal_of(
    data: bytes, trust: Trust, shop: Shop, by: str, reason: str, day: datetime.date
) -> Withdrawal:
    """The withdrawal of a signed certificate. Raises FaultsError where the file is no such one."""
    result = verify(data, trust, day)
    record = result.record
    if record is None or record["kind"] != "certificate" or result.outcome not in STILL_OURS:
        told = "; ".join(item.sentence for item in result.found) or "no certificate"
        raise FaultsError([Fault(Place(key="certificate"), told, "a certificate of this shop")])
    return Withdrawal(
        number=record["number"],
        revision=record["revision"],
        file_sha256=result.file_sha256,
        issued_on=datetime.date.fromisoformat(record["dates"]["issued_on"]),
        withdrawn_on=day,
        reason=reason,
        by=signatory_of(shop, by),
        serial=record["hoist"]["serial"],
    )


def code_of(record: Mapping[str, Any], key: Ed25519PrivateKey, digest: str = "") -> str:
    """The signed code of a certificate's record, for paper and tag.

    `digest` is the SHA-256 of the written record, where it is known already.
    """
    due = record["next_due"]
    essentials = Essentials(
        number=record["number"],
        revision=record["revision"],
        decision=CODE_WORDS[record["decision"]],
        serial=record["hoist"]["serial"],
        rated_load=record["rated_load"],
        examined_on=datetime.date.fromisoformat(record["dates"]["examined_on"]),
        next_due=datetime.date.fromisoformat(due["day"]) if due else None,
        record=bytes.fromhex(digest or sha256(record_bytes(record))),
    )
    return make_code(essentials, key)


def _signing(who: Signatory, signer: SignerKeys, at: datetime.datetime) -> Iterator[str]:
    if not may_sign(who):
        yield f"{who.name or who.key} may not sign: no competent person of the shop file."
    own = signer.certificate
    named = person_of(own)
    if (named and named != who.key) or (not named and name_of(own) != who.name):
        yield (
            f"The key is that of {name_of(own)}, the paper is to be signed by "
            f"{who.name or who.key}."
        )
    try:
        check_in_date(signer, at)
    except ValueError as error:
        yield f"{str(error)[:1].upper()}{str(error)[1:]}"


def _clock(stated: datetime.date, register: Register, at: datetime.datetime) -> Iterator[str]:
    if at.date() < stated:
        yield (
            f"The paper is dated {stated}, the clock says {at:%Y-%m-%d}: it would be signed before "
            "its date. Check the clock."
        )
    last = register.as_of
    if last is not None and at < last:
        yield (
            f"The clock says {at:%Y-%m-%d %H:%M}, but the last line of the register is of "
            f"{last:%Y-%m-%d %H:%M}: the clock was set back."
        )


def _number(certificate: Certificate, register: Register) -> Iterator[str]:
    before = register.issues(certificate.number)
    wanted = len(before)
    if certificate.revision != wanted:
        last = f"revision {wanted - 1}" if before else "nothing"
        yield (
            f"Of {certificate.number} the register holds {last}; expected revision {wanted}, got "
            f"revision {certificate.revision}."
        )
        return
    old = certificate.supersedes
    if before and old is not None and old.file_sha256 != before[-1].file_sha256:
        yield "The file that is to be replaced is not the one in the register."


def _withdrawal(it: Withdrawal, register: Register) -> Iterator[str]:
    if not it.reason.strip():
        yield "A withdrawal must give its reason."
    if it.withdrawn_on < it.issued_on:
        yield f"Withdrawn on {it.withdrawn_on}, before it was issued on {it.issued_on}."
    issued = register.issue_of(it.file_sha256)
    if issued is None or (issued.number, issued.revision) != (it.number, it.revision):
        yield f"The register holds no such file as {it.number}, revision {it.revision}."
    if register.withdrawal_of(it.number, it.revision):
        yield f"{it.number}, revision {it.revision}, is withdrawn already."


def _refuse(found: list[str], what: str) -> None:
    if found:
        told = dict.fromkeys(found)
        raise FaultsError([Fault(Place(key=what), text, "nothing in the way") for text in told])
