"""Checking a certificate or a code: open to anybody who has the file, without signing in."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import cast

import attrs
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from hoistwright.certificate.release.texts import WORDS
from hoistwright.certificate.release.verify import Verification, verify, verify_code
from hoistwright.certificate.signing.code_picture import read_picture
from hoistwright.certificate.signing.findings import Code
from hoistwright.certificate.signing.trust import NOBODY, Trust, trust_of
from hoistwright.faults import FaultsError
from hoistwright.language import marked
from hoistwright.web.page import Page
from hoistwright.web.records.issued import register_of
from hoistwright.web.shop_keys import keys_of
from hoistwright.web.visit import Visit

LARGEST = 8_000_000
"""Bytes of a file that is looked at. Ours have a few hundred thousand."""
AT_ONCE = 2

TITLES: Mapping[Code, str] = {
    "valid": marked("Valid"),
    "not ours": marked("Not one of our papers"),
    "truncated": marked("Cut off"),
    "unreadable": marked("Damaged"),
    "not signed": marked("Not signed"),
    "changed": marked("Changed after signing"),
    "swapped record": marked("The attached record was exchanged"),
    "signer not trusted": marked("Nobody vouches for the signer"),
    "key out of date": marked("The signing key was out of date"),
    "no right": marked("The signer had no right to sign"),
    "clock": marked("Signed at an impossible time"),
    "withdrawn": marked("Withdrawn"),
    "superseded": marked("Superseded"),
}
NO_RELEASE = marked("Signed and unchanged, but no release")
_CODE_DECISIONS = {
    "released": "released",
    "lower load": "released with lower rated load",
    "unrepaired": "returned unrepaired",
    "condemned": "condemned",
}


@attrs.frozen(kw_only=True)
class Sent:
    """What somebody wants checked."""

    file: bytes = attrs.field(default=b"", repr=False)
    name: str = ""
    code: str = ""
    pem: bytes = attrs.field(default=b"", repr=False)


def show(visit: Visit) -> Response:
    code = visit.query("code")
    return _checked(visit, Sent(code=code)) if code else _page(visit)


async def take(visit: Visit) -> Response:
    files = {}
    for name in ("file", "trust"):
        upload = visit.upload(name)
        files[name] = (
            (await upload.read(LARGEST + 1), upload.filename or "") if upload else (b"", "")
        )
    sent = Sent(
        file=files["file"][0], name=files["file"][1][:120], code=visit.field("code"),
        pem=files["trust"][0],
    )  # fmt: skip
    async with _turn(visit):
        return await run_in_threadpool(_checked, visit, sent)


def _turn(visit: Visit) -> asyncio.Semaphore:
    """Strangers' files are looked at a few at a time: the bench's own people do not wait."""
    state = visit.request.app.state
    if not hasattr(state, "checks"):
        state.checks = asyncio.Semaphore(AT_ONCE)
    return cast("asyncio.Semaphore", state.checks)


def _checked(visit: Visit, sent: Sent) -> Response:
    say = visit.say
    if not sent.file and not sent.code:
        return _page(visit, wrong=say("Choose a file, or type the text of a code."), status=422)
    if len(sent.file) > LARGEST:
        return _page(visit, wrong=say("The file is larger than any certificate."), status=422)
    try:
        trust = _trust(visit, sent.pem)
        result = _result(visit, sent, trust)
    except FaultsError as error:
        told = " ".join(
            say("Read: %(read)s. Expected: %(expected)s.", read=say(f.read),
                expected=say(f.expected))
            for f in error.faults
        )  # fmt: skip
        return _page(visit, wrong=told, code=sent.code, status=422)
    return _page(visit, result=result, code=sent.code, name=sent.name)


def _result(visit: Visit, sent: Sent, trust: Trust) -> Verification:
    register, today = register_of(visit.bench.engine), visit.bench.today
    if not sent.file:
        return verify_code(sent.code, trust, today, register=register)
    if sent.file.startswith((b"\xff\xd8\xff", b"\x89PNG")):
        code = read_picture(sent.file, sent.name)
        return verify_code(code, trust, today, register=register)
    return verify(sent.file, trust, today, register=register)


def _trust(visit: Visit, pem: bytes) -> Trust:
    """The public certificate of this shop, and one that the visitor brought."""
    from cryptography import x509

    from hoistwright.faults import Fault, Place

    own = keys_of(visit.bench).trust
    if not pem:
        return own
    try:
        brought = trust_of(x509.load_pem_x509_certificates(pem[:200_000]))
    except ValueError:
        raise FaultsError(
            [Fault(Place(), "no certificate", "a PEM file with a shop's certificate")]
        ) from None
    return Trust((*own.roots, *brought.roots), (*own.codes, *brought.codes))


def _page(
    visit: Visit,
    *,
    result: Verification | None = None,
    wrong: str = "",
    code: str = "",
    name: str = "",
    status: int = 200,
) -> Response:
    return visit.page(
        "verify.html",
        status=status,
        result=result,
        title=_title(result) if result else "",
        facts=_told(visit, result) if result else (),
        wrong=wrong,
        code=code,
        name=name,
        own=keys_of(visit.bench).trust is not NOBODY,
        shop=visit.bench.shop_name,
    )


def _title(result: Verification) -> str:
    """A genuine withdrawal, or one of a condemned hoist, must not be taken for a release."""
    return NO_RELEASE if result.valid and not result.releases else TITLES[result.outcome]


def _told(visit: Visit, result: Verification) -> tuple[tuple[str, str], ...]:
    """What file or code says. A file of a stranger may lack anything, or say it in another way."""
    try:
        return _facts(visit, result)
    except (KeyError, TypeError, ValueError, AttributeError):
        return ()


def _facts(visit: Visit, result: Verification) -> tuple[tuple[str, str], ...]:
    """What file or code says, with its label; nothing that is not there."""
    say, day = visit.say, visit.language.date
    record, short = result.record, result.essentials
    found: list[tuple[str, str]] = []
    if record is not None and record["kind"] == "certificate":
        due = record["next_due"]
        found = [
            (say("Certificate"), f"{record['number']}, {say('revision')} {record['revision']}"),
            (say("Decision"), say(WORDS[record["decision"]])),
            (say("Hoist"), f"{record['hoist']['maker']} {record['hoist']['model']}"),
            (say("Serial number"), record["hoist"]["serial"]),
            (say("Rated load"), visit.load(record["rated_load"]) if record["rated_load"] else ""),
            (say("Examined"), _day(visit, record["dates"]["examined_on"])),
            (say("Next thorough examination by"), _day(visit, due["day"]) if due else ""),
            (say("Shop"), record["shop"]["name"]),
        ]
    elif record is not None:
        found = [
            (say("Withdrawal of"), f"{record['number']}, {say('revision')} {record['revision']}"),
            (say("Reason"), record["reason"]),
        ]
    elif short is not None:
        decision = _CODE_DECISIONS.get(short.decision, short.decision)
        found = [
            (say("Certificate"), f"{short.number}, {say('revision')} {short.revision}"),
            (say("Decision"), say(WORDS.get(decision, decision))),  # type: ignore[call-overload]
            (say("Serial number"), short.serial),
            (say("Rated load"), visit.load(short.rated_load) if short.rated_load else ""),
            (say("Examined"), day(short.examined_on)),
            (say("Next thorough examination by"), day(short.next_due) if short.next_due else ""),
        ]
    if result.signer:
        who = f"{result.signer}, {result.organisation}".rstrip(", ")
        found.append((say("Signed by"), who))
    if result.signed_at:
        found.append((say("Signed at"), visit.language.moment(result.signed_at)))
    if result.file_sha256:
        found.append((say("SHA-256 of the file"), result.file_sha256))
    return tuple((label, value) for label, value in found if value)


def _day(visit: Visit, text: str) -> str:
    import datetime

    return visit.language.date(datetime.date.fromisoformat(text))


PAGES = (Page(name="verify", path="/verify", show=show, take=take, open=True),)
