"""The register of certificates: what was issued, revised and withdrawn, and what stands."""

from __future__ import annotations

import attrs
from starlette.responses import Response

from hoistwright.certificate.release.register import Register, RegisterEntry
from hoistwright.certificate.release.texts import WORDS
from hoistwright.web.page import Page
from hoistwright.web.records.issued import register_of, signed_register
from hoistwright.web.refused import Refused
from hoistwright.web.shop_keys import keys_of
from hoistwright.web.visit import Visit

MOST = 200


@attrs.frozen(kw_only=True)
class Line:
    """One line of the register, for people."""

    entry: RegisterEntry
    name: str
    what: str
    state: str
    when: str
    due: str


def show(visit: Visit) -> Response:
    register = register_of(visit.bench.engine)
    wanted = visit.query("q").casefold()
    entries = [e for e in reversed(register.entries) if _fits(e, wanted)]
    return visit.page(
        "register.html",
        lines=[_line(visit, register, entry) for entry in entries[:MOST]],
        count=len(entries),
        more=max(0, len(entries) - MOST),
        q=visit.query("q"),
        signed=bool(signed_register(visit.bench.engine)),
        public=bool(keys_of(visit.bench).public),
    )


def _fits(entry: RegisterEntry, wanted: str) -> bool:
    told = f"{entry.number} {entry.serial} {entry.job} {entry.signer}".casefold()
    return all(word in told for word in wanted.split())


def _line(visit: Visit, register: Register, entry: RegisterEntry) -> Line:
    say = visit.say
    gone = entry.what == "withdrawn"
    decision = WORDS.get(entry.decision, entry.decision)  # type: ignore[call-overload]
    return Line(
        entry=entry,
        name=f"{entry.number}, {say('revision')} {entry.revision}",
        what=say("Withdrawal") if gone else say(decision),
        state="" if gone else say(_state(register, entry)),
        when=visit.language.moment(entry.at),
        due=visit.day_of(entry.next_due),
    )


def _state(register: Register, entry: RegisterEntry) -> str:
    if register.withdrawal_of(entry.number, entry.revision):
        return "withdrawn"
    later = [e for e in register.issues(entry.number) if e.revision > entry.revision]
    return "superseded" if later else "stands"


def show_file(visit: Visit) -> Response:
    """The signed register, or the shop's public certificate, which anybody may have."""
    name = visit.part("name")
    if name == "register.json" and visit.account is not None:
        data, kind = signed_register(visit.bench.engine), "application/json"
    elif name == "shop-certificate.pem":
        data, kind = keys_of(visit.bench).public, "application/x-pem-file"
    else:
        data, kind = b"", ""
    if not data:
        raise Refused(404, visit.say("There is no such file yet."))
    way = f'attachment; filename="{name}"'
    return Response(data, media_type=kind, headers={"content-disposition": way})


PAGES = (
    Page(name="register", path="/register", show=show),
    Page(name="register-file", path="/register/{name}", show=show_file, open=True),
)
