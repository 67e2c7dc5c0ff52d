"""Signing, revising, withdrawing a certificate: by a competent person with their own secrets."""

from __future__ import annotations

from starlette.responses import Response

from hoistwright.certificate.release.issue import Pens
from hoistwright.certificate.release.render import Lang
from hoistwright.faults import FaultsError
from hoistwright.web.forms import Form
from hoistwright.web.leaving import sign, take_back
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case, case_of
from hoistwright.web.pages.job.entering import same_person
from hoistwright.web.pages.job.release import release_page
from hoistwright.web.pages.job.release_case import ReleaseCase
from hoistwright.web.pages.job.release_form import exit_asked, started
from hoistwright.web.pages.job.said import seen
from hoistwright.web.proves_self import FIELD, proves_self
from hoistwright.web.visit import Visit

MOST_REASON = 500


def take_signature(visit: Visit) -> Response:
    """Sign the certificate, or a revision of the one that stands."""
    case = case_of(visit)
    same_person(visit)
    form = Form(visit)
    if not _signed(case, form):
        return _refused(case, form)
    visit.tell(visit.say("Signed and entered in the register."))
    return visit.go("job-release", job=case.job)


def take_withdrawal(visit: Visit) -> Response:
    """Withdraw the certificate that stands."""
    case = case_of(visit)
    same_person(visit)
    form = Form(visit)
    if not _withdrawn(case, form):
        return _refused(case, form)
    visit.tell(visit.say("Withdrawn and entered in the register."))
    return visit.go("job-release", job=case.job)


def _refused(case: Case, form: Form) -> Response:
    """The page again, with what was typed for the signature but no secret."""
    page = started(case, exit_asked(case, ""))
    return release_page(case, page, status=422, signing=form)


def _signed(case: Case, form: Form) -> bool:
    release, visit = ReleaseCase(case=case), case.visit
    if release.chosen is None:
        form.wrong(FIELD, visit.say("Say first how the hoist is to leave."))
        return False
    if not _as_seen(case, form):
        return False
    reason = form.text("reason", most=MOST_REASON)
    if release.issued is not None and not reason:
        form.wrong("reason", visit.say("Say what was changed and why."))
    pens = _opened(release, form)
    if pens is None or not form.sound:
        return False
    try:
        sign(
            release.leaving, visit.person.key, pens, visit.now, reason=reason,
            lang=_language(form),
        )  # fmt: skip
    except FaultsError as error:
        return _told(form, error)
    return True


def _as_seen(case: Case, form: Form) -> bool:
    """Nobody signs what was not on the page. A page that does not say what stood on it may pass."""
    if seen(case.visit) in (None, case.state.seq):
        return True
    say = case.visit.say
    form.wrong(FIELD, say("Something was entered on this job meanwhile. Look at it, then sign."))
    return False


def _withdrawn(case: Case, form: Form) -> bool:
    release, visit = ReleaseCase(case=case), case.visit
    reason = form.text("why", needed=visit.say("Say why it is withdrawn."), most=MOST_REASON)
    pens = _opened(release, form)
    if pens is None or not form.sound:
        return False
    try:
        take_back(release.leaving, visit.person.key, pens, visit.now, reason, _language(form))
    except FaultsError as error:
        return _told(form, error)
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
    """Everything that forbids the signature; the list of what is missing leads to each."""
    form.wrong("missing", " ".join(form.visit.say(fault.read) for fault in error.faults))
    return False


def _language(form: Form) -> Lang:
    return "fr" if form.value("language") == "fr" else "en"


def show(visit: Visit) -> Response:
    """Whoever loads the address of a signature again sees the release."""
    return visit.go("job-release", job=visit.part("job"))


PAGES = (
    Page(
        name="job-sign", path="/jobs/{job}/release/sign", show=show, take=take_signature, do="sign"
    ),
    Page(
        name="job-withdraw", path="/jobs/{job}/release/withdraw", show=show, take=take_withdrawal,
        do="sign",
    ),
)  # fmt: skip
