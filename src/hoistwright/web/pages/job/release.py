"""The release: which way out, what is missing, when due again, the draft, signing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, cast

import attrs
from starlette.responses import Response

from hoistwright.certificate.release.texts import OCCASIONS, WORDS
from hoistwright.certificate.release.values import RELEASES
from hoistwright.certificate.tag.label import SIZES
from hoistwright.job.entry import Draft, new_id
from hoistwright.job.events_release import CertificateIssued, CertificateWithdrawn
from hoistwright.job.paper_language import paper_language
from hoistwright.job.state import Standing
from hoistwright.web.forms import Form
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case, case_of
from hoistwright.web.pages.job.entering import append, same_person, taking
from hoistwright.web.pages.job.frame import MissingLine, framed, missing_lines
from hoistwright.web.pages.job.question import Question
from hoistwright.web.pages.job.release_case import ReleaseCase
from hoistwright.web.pages.job.release_form import EXITS, FIELDS, exit_asked, said, started
from hoistwright.web.pages.job.said import seen
from hoistwright.web.visit import Visit

MOST_MISSING = 12


@attrs.frozen(kw_only=True)
class Paper:
    """A certificate or a withdrawal, as the page lists it."""

    name: str
    what: str
    when: str
    by: str
    content: str
    stands: bool = False
    reason: str = ""


def show(visit: Visit) -> Response:
    case = case_of(visit)
    return release_page(case, started(case, exit_asked(case, visit.query("exit"))))


def _shown(case: Case, question: Question | None) -> Response:
    form = started(case, exit_asked(case, ""))
    return release_page(case, form, question=question)


_take_entry = taking(_shown)


def take(visit: Visit) -> Response:
    """Keep how the hoist is to leave; or an entry such as every page takes."""
    if visit.field("do"):
        return cast("Response", _take_entry(visit))
    case = case_of(visit)
    same_person(visit)
    form = Form(visit)
    chosen = said(case, form)
    if chosen is None:
        return release_page(case, form, status=422)
    if chosen != case.state.exit:
        entered = append(
            case,
            Draft(id=visit.field("id") or new_id(), by=visit.person.key, seen=seen(visit),
                  body=chosen),
        )  # fmt: skip
        if isinstance(entered, Question):
            form.wrong("exit", entered.words)
            return release_page(case, form, status=422)
    return visit.go_to(f"{visit.url('job-release', job=case.job)}#missing")


def release_page(
    case: Case,
    form: Form,
    *,
    status: int = 200,
    signing: Form | None = None,
    question: Question | None = None,
) -> Response:
    """The page; `signing` is the form of the signature, where it was sent and refused."""
    release = ReleaseCase(case=case)
    visit, chosen = case.visit, release.chosen
    wanted = exit_asked(case, form.value("exit"))
    missing = _missing(release)
    response = framed(
        case,
        "release.html",
        "release",
        question,
        release=release,
        form=form,
        signing=signing or Form(visit, {"language": paper_language_of(case)}),
        exits=EXITS,
        wanted=wanted,
        groups=FIELDS[wanted] if wanted else (),
        occasions=[(key, words) for key, words in OCCASIONS.items()],
        chosen=chosen,
        chosen_word=WORDS[chosen.exit] if chosen else "",
        may_lift=chosen is not None and chosen.exit in RELEASES,
        missing=missing[:MOST_MISSING],
        more_missing=max(0, len(missing) - MOST_MISSING),
        due=_due(release),
        record=_record(visit),
        settled=release.issued is not None and not release.changed and not missing,
        asked=bool(visit.query("exit")),
        papers=[_paper(case, entry) for entry in release.papers],
        sizes=tuple(SIZES),
        competent=visit.may("sign") and visit.person.key in case.shop.adopters(),
        has_key=release.keys.has_signer(visit.person.key),
    )
    response.status_code = status
    return response


def paper_language_of(case: Case) -> str:
    """The language of the customer's papers, else the shop's."""
    booked = case.state.booked
    return paper_language(booked.customer if booked else None, case.shop)


def _record(visit: Visit) -> str:
    """Where the record is, as the command for keys takes it; never a password."""
    address = visit.bench.engine.url
    if address.drivername.startswith("sqlite"):
        return address.database or ""
    return address.set(drivername="postgresql").render_as_string(hide_password=True)


def _missing(release: ReleaseCase) -> tuple[MissingLine, ...]:
    """What stands in the way of the signature: everything but the signature."""
    found = missing_lines(release.case, "release")
    asked = tuple(line for line in found if line.what != "certificate")
    return asked or tuple(_objections(release))


def _objections(release: ReleaseCase) -> Iterator[MissingLine]:
    """What the certificate itself would be refused for, told before somebody tries to sign it."""
    visit = release.visit
    if visit.person.key not in release.case.shop.adopters():
        return
    person = visit.url("me")
    if visit.may("administer"):
        person = visit.url("person", person=visit.person.key)
    for sentence in release.objections(visit.person.key):
        own = person if sentence.startswith(visit.person.name) else ""
        yield MissingLine(words=visit.say(sentence), link=own or "#way", what="objection")


def _due(release: ReleaseCase) -> Any:
    """The next examination as the certificate will state it; None where there is none."""
    chosen = release.chosen
    if chosen is None or chosen.exit not in RELEASES or release.case.facts.examination is None:
        return None
    visit = release.visit
    return release.leaving.certificate("draft", visit.person.key, visit.bench.today).next_due


def _paper(case: Case, entry: Standing) -> Paper:
    body, say = entry.event.body, case.visit.say
    when = case.visit.language.moment(entry.event.at)
    by = case.name(entry.event.by)
    if isinstance(body, CertificateIssued):
        name = f"{body.number}, {say('revision')} {body.revision}"
        return Paper(
            name=name, what=say(WORDS[body.decision]), when=when, by=by, content=body.content,
            stands=body == case.state.certificate,
        )  # fmt: skip
    assert isinstance(body, CertificateWithdrawn)
    name = f"{body.number}, {say('revision')} {body.revision}"
    return Paper(
        name=name, what=say("Withdrawal"), when=when, by=by, content=body.content,
        reason=body.reason,
    )  # fmt: skip


PAGES = (Page(name="job-release", path="/jobs/{job}/release", show=show, take=take),)
