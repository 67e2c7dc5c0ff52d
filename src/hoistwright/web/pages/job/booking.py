"""What was booked in, and what can still be set: design, bases, day, who has the job."""

from __future__ import annotations

from starlette.responses import Response

from hoistwright.basis.adoption import adoption_state
from hoistwright.basis.model import Basis
from hoistwright.examine.words import shown as figure
from hoistwright.job.to_entries import day_of
from hoistwright.language import LANGUAGES
from hoistwright.quantity import Dimension
from hoistwright.web.bases import bases_named, basis_keys
from hoistwright.web.designs import all_designs
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.entering import shown, taking
from hoistwright.web.pages.job.frame import framed, missing_lines
from hoistwright.web.pages.job.question import Question


def show(case: Case, question: Question | None) -> Response:
    booked = case.state.booked
    load = booked.hoist.rated_load if booked else None
    if load is None and case.design:
        load = case.design.rating.rated_load
    return framed(
        case,
        "booking.html",
        "book in",
        question,
        booked=booked,
        entry=case.state.by_topic.get(("booked in",)),
        load="" if load is None else figure(load, Dimension.MASS, case.visit.units),
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


def _basis(case: Case, basis: Basis) -> tuple[str, str, bool, str]:
    """Key, title, whether it is adopted, and the sentence on that."""
    state = adoption_state(basis, case.shop.adoptions, case.shop.adopters())
    own = case.visit.language
    return basis.key, own.sentence(basis.head.title), state.holds, own.sentence(state.sentence)


PAGES = (Page(name="job-booking", path="/jobs/{job}/booking", show=shown(show),
              take=taking(show)),)  # fmt: skip
