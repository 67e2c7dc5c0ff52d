"""Whether a certificate can be relied on: its file alone, offline; with the register if at hand."""

from __future__ import annotations

import datetime
import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import attrs

from hoistwright.certificate.release.record import FORMAT, sha256
from hoistwright.certificate.release.register import Register
from hoistwright.certificate.release.rules import MAY_SIGN
from hoistwright.certificate.release.standing import CODE_RELEASES, code_standing, standing
from hoistwright.certificate.release.values import RELEASES
from hoistwright.certificate.signing.check_pdf import SignatureCheck, check_pdf
from hoistwright.certificate.signing.code import CodeError, Essentials, read_code, signed_by
from hoistwright.certificate.signing.findings import Code, Found, worst
from hoistwright.certificate.signing.make_keys import COMPETENT
from hoistwright.certificate.signing.names import name_of, organisation_of, person_of, title_of
from hoistwright.certificate.signing.trust import Trust

KINDS = ("certificate", "withdrawal")
AHEAD = datetime.timedelta(hours=14)
"""How far the calendar of a place may be ahead of the time in the signature, which is UTC."""


@attrs.frozen(kw_only=True)
class Verification:
    """What came of a check. `outcome` is "valid", or the worst thing that was found."""

    found: tuple[Found, ...]
    record: Mapping[str, Any] | None = attrs.field(default=None, repr=False)
    signer: str = ""
    organisation: str = ""
    signed_at: datetime.datetime | None = None
    stamped_at: datetime.datetime | None = None
    file_sha256: str = ""
    essentials: Essentials | None = None

    @property
    def outcome(self) -> Code:
        return worst(self.found)

    @property
    def valid(self) -> bool:
        return self.outcome == "valid"

    @property
    def releases(self) -> bool:
        """Whether it says that the hoist may lift: not so a withdrawal, nor a hoist condemned."""
        if self.record is not None:
            return self.record.get("decision") in RELEASES
        return self.essentials is not None and self.essentials.decision in CODE_RELEASES


def verify(
    data: bytes,
    trust: Trust,
    today: datetime.date,
    *,
    register: Register | None = None,
    others: Sequence[bytes] = (),
) -> Verification:
    """Check a certificate or a withdrawal.

    Args:
        data: the file.
        trust: from `trust_of`: whom the reader trusts.
        today: the day of the check.
        register: the shop's register, where it is at hand.
        others: other signed papers that are at hand: later revisions, withdrawals.
    """
    check = check_pdf(data, trust, today)
    record = _record(check)
    if record is None:
        found = check.found
        if check.record is not None and worst(found) == "valid":
            found = (*found, Found("not ours", "The attached record is none that we know."))
        return Verification(found=found, file_sha256=sha256(data))
    own = sha256(data)
    try:
        said = (
            *_right(check, record),
            *_clock(check, record, today),
            *_later(record, own, register, _signed(others, trust, today)),
            *standing(record, today),
        )
    except (KeyError, TypeError, ValueError, AttributeError):
        said = (Found("unreadable", "The attached record lacks what every record has."),)
        record = None
    found = (*check.found, *said)
    signer = check.signer
    return Verification(
        found=tuple(dict.fromkeys(found)),
        record=record,
        signer=name_of(signer) if signer else "",
        organisation=organisation_of(signer) if signer else "",
        signed_at=check.signed_at,
        stamped_at=check.stamped_at,
        file_sha256=own,
    )


def verify_code(
    text: str, trust: Trust, today: datetime.date, *, register: Register | None = None
) -> Verification:
    """Check the text of a code. It proves the essentials, not the whole record."""
    try:
        essentials, *_ = read_code(text)
        fits = signed_by(text, trust)
    except CodeError as error:
        code: Code = "changed" if "changed" in str(error) else "not ours"
        return Verification(found=(Found(code, str(error)),))
    found: list[Found] = []
    if fits is None:
        words = "The code is signed with a key that your shop certificate does not name."
        found.append(Found("signer not trusted", words))
    elif not fits:
        found.append(Found("changed", "The code was changed: its signature does not fit."))
    found += _listed(essentials.number, essentials.revision, "", register)
    found += code_standing(essentials, today)
    return Verification(found=tuple(found), essentials=essentials)


def _record(check: SignatureCheck) -> dict[str, Any] | None:
    try:
        record = json.loads(check.record or b"")
    except (ValueError, RecursionError):
        return None
    fits = isinstance(record, dict) and record.get("format") == FORMAT
    return record if fits and record.get("kind") in KINDS else None


def _right(check: SignatureCheck, record: Mapping[str, Any]) -> Iterator[Found]:
    """The signer must be the one whom the record names, of that shop, and competent."""
    own = check.signer
    if own is None:
        return
    named = record["authenticated_by"]
    if MAY_SIGN not in named["roles"]:
        yield Found("no right", f"The record names {named['name']}, who is no {MAY_SIGN}.")
    person = person_of(own)
    same = person == named["key"] if person else name_of(own) == named["name"]
    if not same:
        text = f"Signed by {name_of(own)}, but the record names {named['name']} as the signer."
        yield Found("no right", text)
    if person and title_of(own) != COMPETENT:
        yield Found("no right", f"The certificate of {name_of(own)} gives no right to sign.")
    shop = record["shop"]["name"]
    if person and organisation_of(own) != shop[:64]:
        text = f"{name_of(own)} signs for {organisation_of(own)}; the record is of {shop}."
        yield Found("no right", text)


def _clock(
    check: SignatureCheck, record: Mapping[str, Any], today: datetime.date
) -> Iterator[Found]:
    at = check.stamped_at or check.signed_at
    if at is None:
        return
    latest = (at + AHEAD).date()
    for word, day in _days(record):
        if latest < day:
            text = f"Signed on {at:%Y-%m-%d}, which is before it was {word} on {day}."
            yield Found("clock", text)
    if at.date() > today + datetime.timedelta(days=1):
        yield Found("clock", f"Signed on {at:%Y-%m-%d}: that day has not come yet.")


def _days(record: Mapping[str, Any]) -> Iterator[tuple[str, datetime.date]]:
    if record["kind"] == "withdrawal":
        stated = {"withdrawn": record["withdrawn_on"], "issued": record["issued_on"]}
    else:
        dates, old = record["dates"], record["supersedes"]
        stated = {
            "examined": dates["examined_on"],
            "tested": dates["tested_on"],
            "dated": dates["issued_on"],
            "issued before it was revised": old["issued_on"] if old else None,
        }
    for word, day in stated.items():
        if day:
            yield word, datetime.date.fromisoformat(day)


def _signed(others: Sequence[bytes], trust: Trust, today: datetime.date) -> list[Mapping[str, Any]]:
    """The records of those papers that are themselves signed by somebody with the right."""
    records: list[Mapping[str, Any]] = []
    for data in others:
        check = check_pdf(data, trust, today)
        record = _record(check)
        if record is not None and worst(check.found) == "valid":
            found = (*check.found, *_right(check, record), *_clock(check, record, today))
            if worst(found) == "valid":
                records.append(record)
    return records


def _later(
    record: Mapping[str, Any],
    own: str,
    register: Register | None,
    others: Sequence[Mapping[str, Any]],
) -> Iterator[Found]:
    if record["kind"] != "certificate":
        return
    number, revision, shop = record["number"], record["revision"], record["shop"]["name"]
    yield from _listed(number, revision, own, register)
    for other in others:
        if other["shop"]["name"] != shop or other["number"] != number:
            continue
        if other["kind"] == "withdrawal" and other["revision"] == revision:
            text = f"Withdrawn on {other['withdrawn_on']}: {other['reason']}"
            yield Found("withdrawn", text)
        elif other["kind"] == "certificate" and other["revision"] > revision:
            day = other["dates"]["issued_on"]
            text = f"Superseded by revision {other['revision']} of {day}: ask the shop for it."
            yield Found("superseded", text)


def _listed(number: str, revision: int, own: str, register: Register | None) -> Iterator[Found]:
    if register is None:
        return
    issues = register.issues(number)
    mine = next((e for e in issues if e.revision == revision), None)
    if mine is None:
        yield Found("remark", f"The register of {register.shop} does not hold it.")
    elif own and mine.file_sha256 != own:
        yield Found("remark", "The register names another file under this number and revision.")
    gone = register.withdrawal_of(number, revision)
    if gone:
        yield Found("withdrawn", f"Withdrawn on {gone.at:%Y-%m-%d}: {gone.reason}")
    newer = [e for e in issues if e.revision > revision]
    if newer:
        text = f"Superseded by revision {newer[-1].revision} of {newer[-1].at:%Y-%m-%d}."
        yield Found("superseded", text)
