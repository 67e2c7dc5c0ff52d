"""Taking what a page's form says: for script as JSON, for a plain browser as the next page."""

from __future__ import annotations

from collections.abc import Callable

from starlette.responses import Response

from hoistwright.faults import FaultsError
from hoistwright.job.entry import Draft
from hoistwright.job.state import JobState
from hoistwright.store.errors import ClashError
from hoistwright.web.endpoint import wants_json
from hoistwright.web.page import Act
from hoistwright.web.pages.job.answer_group import with_choices
from hoistwright.web.pages.job.case import Case, case_at, case_of, case_to_enter
from hoistwright.web.pages.job.question import Question, ask
from hoistwright.web.pages.job.said import Entered, draft_of
from hoistwright.web.pages.job.saved import saved_place
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
        case = case_to_enter(visit)
        same_person(visit)
        entered = enter(case)
        if isinstance(entered, Question):
            return _asked(case_of(visit), show, entered)
        if wants_json(visit.request):
            return visit.answer(_told(visit, entered, show))
        return visit.go_to(visit.field("next") or visit.request.url.path)

    return answer


def enter(case: Case) -> Entered | Question:
    """Enter what the form says; what the journal has already is not entered again."""
    try:
        return append(case, draft_of)
    except Asked as asked:
        now = case_of(case.visit)
        if now.state.seq == asked.seq:
            return asked.question
    try:  # the bench was behind the record, and may have asked for that reason alone
        return append(now, draft_of)
    except Asked as asked:
        return asked.question


class Asked(Exception):  # noqa: N818 - a question, not a failure
    """Raised to enter nothing and ask back. `seq`: after which entry of the job."""

    def __init__(self, question: Question, seq: int) -> None:
        super().__init__(question.words)
        self.question, self.seq = question, seq


def append(case: Case, said: Draft | Callable[[Case], Draft | Question]) -> Entered | Question:
    """Enter a draft, or what the form says of the job as it stands when it is entered."""
    id_ = said.id if isinstance(said, Draft) else case.visit.field("id")
    before = known(case, id_)
    if before is not None:
        return before

    def make(state: JobState) -> list[Draft]:
        if isinstance(said, Draft):
            return [said]
        found = said(case if state is case.state else case_at(case.visit, state))
        if isinstance(found, Question):
            raise Asked(found, state.seq)
        return with_choices(state, found)

    try:
        done = case.visit.bench.store.append_by(case.job, make, now=case.visit.now)
    except ClashError:  # the same form, sent twice at the same moment
        before = known(case_of(case.visit), id_)
        if before is None:
            raise
        return before
    except (ValueError, FaultsError) as error:
        return ask("value", f"{error}")
    return Entered(id=id_ or done.events[-1].id, seq=done.state.seq, state=done.state)


def _told(visit: Visit, entered: Entered, show: Show) -> dict[str, object]:
    """For script: of a reading its place with the verdict, of anything else the page anew."""
    told: dict[str, object] = {"entered": entered.id, "seq": entered.seq}
    if entered.state is not None and visit.field("do") in ("reading", "correct"):
        return told | {"place": saved_place(case_at(visit, entered.state))}
    return told | {"page": bytes(show(case_of(visit), None).body).decode("utf-8")}


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
