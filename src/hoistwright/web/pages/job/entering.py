"""Taking what a page's form says: for script as JSON, for a plain browser as the next page."""

from __future__ import annotations

from collections.abc import Callable

from starlette.responses import Response

from hoistwright.faults import FaultsError
from hoistwright.job.entry import Draft
from hoistwright.store.errors import ClashError
from hoistwright.web.endpoint import wants_json
from hoistwright.web.page import Act
from hoistwright.web.pages.job.case import Case, case_of
from hoistwright.web.pages.job.question import Question, ask
from hoistwright.web.pages.job.said import Entered, draft_of
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit

Show = Callable[[Case, Question | None], Response]
"""Shows a page of a job, with a question that was asked back."""


def shown(show: Show) -> Act:
    """The page for GET."""

    def answer(visit: Visit) -> Response:
        return show(case_of(visit), None)

    return answer


def taking(show: Show) -> Act:
    """The page for POST. A form sent twice is entered once: its id was made with the form."""

    def answer(visit: Visit) -> Response:
        case = case_of(visit)
        same_person(visit)
        entered = enter(case)
        if isinstance(entered, Question):
            return _asked(case, show, entered)
        if wants_json(visit.request):
            page = bytes(show(case_of(visit), None).body).decode("utf-8")
            return visit.answer({"entered": entered.id, "seq": entered.seq, "page": page})
        return visit.go_to(visit.field("next") or visit.request.url.path)

    return answer


def enter(case: Case) -> Entered | Question:
    """Enter what the form says; what the journal has already is not entered again."""
    before = known(case, case.visit.field("id"))
    if before is not None:
        return before
    draft = draft_of(case)
    if isinstance(draft, Question):
        return draft
    return append(case, draft)


def append(case: Case, draft: Draft) -> Entered | Question:
    store = case.visit.bench.store
    try:
        done = store.append(case.job, [draft], now=case.visit.now)
    except ClashError:  # the same form, sent twice at the same moment
        before = known(case_of(case.visit), draft.id)
        if before is None:
            raise
        return before
    except (ValueError, FaultsError) as error:
        return ask("value", f"{error}")
    return Entered(id=draft.id, seq=done.state.seq)


def known(case: Case, id_: str) -> Entered | None:
    """The entry with this id, where this person made it before."""
    state = case.state
    entry = state.entries.get(state.roots.get(id_, id_))
    if entry is None:
        return None
    if any(event.id == id_ and event.by != case.visit.person.key for event in entry.touches):
        return None
    return Entered(id=id_, seq=state.seq)


def same_person(visit: Visit) -> None:
    """What one person typed is not entered in the name of another who took the tablet over."""
    by = visit.field("by")
    if by and by != visit.person.key:
        raise Refused(
            409,
            visit.say("This was typed by somebody else, who is not at this tablet now."),
            visit.say("It waits here until they take the tablet over again."),
        )


def _asked(case: Case, show: Show, question: Question) -> Response:
    if wants_json(case.visit.request):
        return case.visit.answer(
            {
                "field": question.field,
                "asked": question.words,
                "offers": list(question.offers),
                "sure": question.sure,
            },
            status=422,
        )
    response = show(case, question)
    response.status_code = 422
    return response
