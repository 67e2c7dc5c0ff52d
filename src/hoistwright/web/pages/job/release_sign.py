"""Signing, revising, withdrawing a certificate: by a competent person with their own secrets."""

from __future__ import annotations

import threading

from starlette.responses import Response

from hoistwright.certificate.release.issue import Issued, Pens, issue, withdraw, withdrawal_of
from hoistwright.certificate.release.register import register_bytes
from hoistwright.certificate.release.render import Lang
from hoistwright.certificate.release.rules import objections
from hoistwright.faults import FaultsError
from hoistwright.job.entry import Draft
from hoistwright.job.events_release import CertificateIssued, CertificateWithdrawn
from hoistwright.web.forms import Form
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case, case_of
from hoistwright.web.pages.job.entering import append, same_person
from hoistwright.web.pages.job.question import Question
from hoistwright.web.pages.job.release import release_page
from hoistwright.web.pages.job.release_case import ReleaseCase
from hoistwright.web.pages.job.release_form import exit_asked, started
from hoistwright.web.proves_self import FIELD, proves_self
from hoistwright.web.records.issued import draw_number, keep_signed
from hoistwright.web.visit import Visit

_ONE_AT_A_TIME = threading.Lock()
"""Number, signature and entry of one certificate go together."""
MOST_REASON = 500


def take_signature(visit: Visit) -> Response:
    """Sign the certificate, or a revision of the one that stands."""
    case = case_of(visit)
    same_person(visit)
    form = Form(visit)
    with _ONE_AT_A_TIME:
        done = _signed(case, form)
    if not done:
        return _refused(case, form)
    visit.tell(visit.say("Signed and entered in the register."))
    return visit.go("job-release", job=case.job)


def take_withdrawal(visit: Visit) -> Response:
    """Withdraw the certificate that stands."""
    case = case_of(visit)
    same_person(visit)
    form = Form(visit)
    with _ONE_AT_A_TIME:
        done = _withdrawn(case, form)
    if not done:
        return _refused(case, form)
    visit.tell(visit.say("Withdrawn and entered in the register."))
    return visit.go("job-release", job=case.job)


def _refused(case: Case, form: Form) -> Response:
    page = started(case, exit_asked(case, ""))
    # what was typed for the signature is shown again by `signing`, never a secret
    return release_page(case, Form(case.visit, page.start, page.faults), status=422, signing=form)


def _signed(case: Case, form: Form) -> bool:
    release, visit = ReleaseCase(case=case), case.visit
    if release.chosen is None:
        form.wrong(FIELD, visit.say("Say first how the hoist is to leave."))
        return False
    reason = form.text("reason", most=MOST_REASON)
    if release.issued is not None and not reason:
        form.wrong("reason", visit.say("Say what was changed and why."))
    pens = _opened(release, form)
    if pens is None or not form.sound:
        return False
    try:
        issued, event = _issued(release, pens, reason, _language(form))
    except FaultsError as error:
        return _told(form, error)
    visit.bench.store.attach(issued.pdf)
    entered = append(case, Draft(by=visit.person.key, body=event, told_at=None))
    if isinstance(entered, Question):
        form.wrong(FIELD, entered.words)
        return False
    keep_signed(visit.bench.engine, register_bytes(issued.register, pens.code_key))
    return True


def _issued(
    release: ReleaseCase, pens: Pens, reason: str, lang: Lang
) -> tuple[Issued, CertificateIssued]:
    """The signed paper and its event. A number is drawn once nothing stands in the way."""
    visit, person = release.visit, release.visit.person.key
    old = release.issued
    made = release.certificate(old.number if old else "?", person, reason)
    _refuse(objections(made, release.examination, release.sheet))
    number = made.number
    if old is None:
        number = draw_number(visit.bench.engine, release.register, visit.bench.today.year)
    made = release.certificate(number, person, reason)
    issued = issue(
        made, release.examination, release.sheet, release.case.shop, pens, release.register,
        visit.now.astimezone(), lang=lang,
    )  # fmt: skip
    due = made.next_due
    return issued, CertificateIssued(
        number=number,
        revision=made.revision,
        content=issued.sha256,
        decision=made.decision,
        rated_load=made.rated_load,
        issued_on=made.issued_on,
        next_due=due.day if due else None,
        why_due=due.why if due else "",
        code=issued.code,
    )


def _withdrawn(case: Case, form: Form) -> bool:
    release, visit = ReleaseCase(case=case), case.visit
    say, old = visit.say, release.issued
    reason = form.text("why", needed=say("Say why it is withdrawn."), most=MOST_REASON)
    if old is None:
        form.wrong("why", say("No certificate of this job stands."))
        return False
    kept = visit.bench.store.attachment(old.content)
    if kept is None:
        form.wrong("why", say("The signed file is not kept here: withdraw it from the command."))
    pens = _opened(release, form)
    if pens is None or kept is None or not form.sound:
        return False
    try:
        it = withdrawal_of(
            kept[1], release.keys.trust, case.shop, visit.person.key, reason, visit.bench.today
        )
        done = withdraw(
            it, case.shop, pens, release.register, visit.now.astimezone(), lang=_language(form)
        )
    except FaultsError as error:
        return _told(form, error)
    visit.bench.store.attach(done.pdf)
    event = CertificateWithdrawn(
        number=old.number, revision=old.revision, reason=reason, content=done.sha256
    )
    append(case, Draft(by=visit.person.key, body=event))
    keep_signed(visit.bench.engine, register_bytes(done.register, pens.code_key))
    return True


def _opened(release: ReleaseCase, form: Form) -> Pens | None:
    """The pens of the person who signs; None where a secret is wrong, which the form tells."""
    say = form.visit.say
    if not release.keys.ready or not release.keys.has_signer(form.visit.person.key):
        form.wrong(FIELD, say("There is no signing key for you on this bench."))
        return None
    secret = proves_self(form)
    if not secret:
        return None
    own = str(form.visit.form.get("passphrase", "")) or secret
    shop = str(form.visit.form.get("shop_passphrase", ""))
    try:
        return release.keys.opened(form.visit.person.key, own, shop)
    except FaultsError:
        form.wrong(
            "passphrase",
            say("A key does not open: type the passphrase that it was made with. Nothing was "
                "signed."),
        )  # fmt: skip
        return None


def _told(form: Form, error: FaultsError) -> bool:
    """Everything that forbids the signature, one below the other."""
    for place, fault in enumerate(error.faults):
        form.wrong(f"refused-{place}", form.visit.say(fault.read))
    return False


def _refuse(found: list[str]) -> None:
    from hoistwright.faults import Fault, Place

    if found:
        raise FaultsError(
            [Fault(Place(), text, "nothing in the way") for text in dict.fromkeys(found)]
        )


def _language(form: Form) -> Lang:
    return "fr" if form.value("language") == "fr" else "en"


PAGES = (
    Page(name="job-sign", path="/jobs/{job}/release/sign", take=take_signature, do="sign"),
    Page(name="job-withdraw", path="/jobs/{job}/release/withdraw", take=take_withdrawal, do="sign"),
)
