"""What was booked in, all of it to be put right; and design, bases, day of the examination."""

from __future__ import annotations

from starlette.responses import Response

from hoistwright.basis.adoption import adoption_state
from hoistwright.basis.model import Basis
from hoistwright.examine.findings import Finding
from hoistwright.job.events import BookedIn
from hoistwright.job.to_entries import day_of
from hoistwright.language import LANGUAGES
from hoistwright.web.bases import bases_named, basis_keys
from hoistwright.web.booking_form import FOUND, SERVICES, found_parts
from hoistwright.web.designs import all_designs
from hoistwright.web.forms import Form
from hoistwright.web.page import Page
from hoistwright.web.pages.job.booking_said import LOAD
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.entering import shown, taking
from hoistwright.web.pages.job.frame import framed, missing_lines
from hoistwright.web.pages.job.question import Question
from hoistwright.web.visit import Visit


def show(case: Case, question: Question | None) -> Response:
    booked = case.state.booked
    return framed(
        case,
        "booking.html",
        "book in",
        question,
        booked=booked,
        form=_Standing(case.visit, _start(case, booked), question=question),
        load_field=LOAD,
        kind=case.design.identity.kind if case.design else "",
        disagreements=_disagreements(case),
        founds=FOUND,
        services=SERVICES,
        missing=missing_lines(case, "book in"),
        designs=all_designs(case.visit.bench),
        bases=[
            _basis(case, basis)
            for basis in bases_named(case.visit.bench, basis_keys(case.visit.bench))
        ],
        chosen=case.state.bases,
        day=day_of(case.state) or case.visit.bench.today,
        stated=case.state.examined_on,
        languages=list(LANGUAGES.items()),
        paper_language=LANGUAGES.get(booked.customer.language, "") if booked else "",
    )


class _Standing(Form):
    """The booking as it stands; where something was asked back, as it was just typed."""

    def __init__(self, visit: Visit, start: dict[str, str], *, question: Question | None) -> None:
        faults = {question.field: question.words} if question else {}
        super().__init__(visit, start, faults)

    def value(self, name: str) -> str:
        typed = self.faults and name in self.visit.form
        return self.visit.field(name) if typed else self.start.get(name, "")


def _start(case: Case, booked: BookedIn | None) -> dict[str, str]:
    """Each field of the forms as it was booked in."""
    if booked is None:
        return {}
    hoist, customer = booked.hoist, booked.customer
    found, words = found_parts(booked.found)
    load = hoist.rated_load
    return {
        "maker": hoist.maker,
        "model": hoist.model,
        "serial": hoist.serial,
        LOAD: "" if load is None else case.visit.load(load),
        "manufactured": hoist.manufactured,
        "customer": customer.name,
        "tag": hoist.tag,
        "premises": customer.premises,
        "address": customer.address,
        "paper_language": customer.language,
        "found": found,
        "found_words": words,
        "complaint": booked.complaint,
        "received_on": booked.received_on.isoformat() if booked.received_on else "",
        "last_examined_on": booked.last_examined_on.isoformat() if booked.last_examined_on else "",
        "service": booked.service,
    }


def _disagreements(case: Case) -> tuple[Finding, ...]:
    """Where the plate as booked in and the design do not go together."""
    examination = case.facts.examination
    found = examination.findings if examination else ()
    return tuple(finding for finding in found if finding.about == "identity")


def _basis(case: Case, basis: Basis) -> tuple[str, str, bool, str]:
    """Key, title, whether it is adopted, and the sentence on that."""
    state = adoption_state(basis, case.shop.adoptions, case.shop.adopters())
    own = case.visit.language
    return basis.key, own.sentence(basis.head.title), state.holds, own.sentence(state.sentence)


PAGES = (Page(name="job-booking", path="/jobs/{job}/booking", show=shown(show),
              take=taking(show)),)  # fmt: skip
