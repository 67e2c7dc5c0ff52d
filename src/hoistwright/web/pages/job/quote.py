"""The quote of a job: making it, the papers made so far, and what the customer said."""

from __future__ import annotations

import datetime
from typing import Any

import attrs
from starlette.responses import Response

from hoistwright.faults import FaultsError
from hoistwright.job.entry import Draft, new_id
from hoistwright.job.events_quote import QuoteAnswered, QuoteMade
from hoistwright.job.stages import missing_of
from hoistwright.job.state import JobState, Standing
from hoistwright.language import LANGUAGES, marked
from hoistwright.web.forms import Form
from hoistwright.web.page import Page
from hoistwright.web.pages.job.answer_group import following_id
from hoistwright.web.pages.job.case import Case, case_of
from hoistwright.web.pages.job.entering import enter, known, same_person
from hoistwright.web.pages.job.frame import PAGES as STAGE_PAGES
from hoistwright.web.pages.job.frame import framed, missing_lines
from hoistwright.web.pages.job.papers import plain_name, sent_file
from hoistwright.web.pages.job.question import Question
from hoistwright.web.pages.job.quote_answer import answer_drafts, answered_parts
from hoistwright.web.pages.job.quote_paper import made_quote, next_number, quotes_of
from hoistwright.web.pages.job.said import seen
from hoistwright.web.pages.job.weighing import Money, weighed
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit

PAPERS = (("a4", "A4"), ("us-letter", marked("US letter")))
WAYS = (
    ("in writing", marked("in writing")),
    ("by telephone", marked("by telephone")),
    ("at the counter", marked("at the counter")),
)
LONGEST_VALID = 3650


@attrs.frozen(kw_only=True)
class QuoteLine:
    """A quote that was made."""

    number: str
    when: str
    by: str
    until: str
    paper: bool
    stands: bool
    entry: str
    """Of the journal, to take it back by."""


def show(visit: Visit) -> Response:
    case = case_of(visit)
    return quote_page(case, weighed(case))


def quote_page(
    case: Case,
    money: Money,
    *,
    status: int = 200,
    making: Form | None = None,
    answering: Form | None = None,
) -> Response:
    """The page; `making` and `answering` are forms that were sent and refused."""
    if money.offer is None or money.charges is None:
        say = case.visit.say
        raise Refused(
            409,
            say("There is nothing to quote yet."),
            say("Examine the hoist, and see that the shop file has charges."),
        )
    response = framed(
        case,
        "quote.html",
        "renew",
        money=money,
        making=making or Form(case.visit, _start(case, money)),
        answering=answering or Form(case.visit, {"how": "in writing"}),
        languages=list(LANGUAGES.items()),
        papers=case.visit.said(PAPERS),
        ways=case.visit.said(WAYS),
        unknown=len(missing_of("examine", case.facts)),
        quotes=[_line(case, entry) for entry in reversed(quotes_of(case.state))],
        quoted=case.state.quoted,
        answered=case.state.answered,
        answered_by=_answered_by(case),
        answer_entry=_answer_entry(case),
        undo_here=False,  # quote and answer are taken back by their own buttons
        stage_page=STAGE_PAGES[case.stage],
        missing=missing_lines(case, "renew"),
        asked=answered_parts(case, money),
    )
    response.status_code = status
    return response


def take(visit: Visit) -> Response:
    """Make a quote, or keep what the customer said to one."""
    case = case_of(visit)
    same_person(visit)
    if known(case, visit.field("id")) is None:
        does = {"quote": _make, "answer": _answer, "withdraw": _take_back}
        act = does.get(visit.field("do"))
        if act is None:
            say = visit.say
            raise Refused(422, say("This page does not know what to do with that. Load it again."))
        refused = act(case, weighed(case))
        if refused is not None:
            return refused
    return visit.go("job-quote", job=case.job)


def _take_back(case: Case, _money: Money) -> Response | None:
    """Take the quote or the answer back: both stay in the journal.

    Nothing else: who may quote may not take a technician's readings back.
    """
    key = case.visit.field("entry")
    entry = case.state.entries.get(case.state.roots.get(key, key))
    if entry is None or not isinstance(entry.event.body, QuoteMade | QuoteAnswered):
        raise Refused(422, case.visit.say("Only a quote and its answer are taken back here."))
    entered = enter(case)
    if isinstance(entered, Question):
        raise Refused(422, entered.words)
    return None


def _make(case: Case, money: Money) -> Response | None:
    form = Form(case.visit)
    until = form.date("valid_until")
    lang = form.choice("language", list(LANGUAGES), needed=case.visit.say("Choose a language."))
    paper = form.choice("paper", [key for key, _ in PAPERS])
    if until is not None and until < case.visit.bench.today:
        form.wrong("valid_until", case.visit.say("This day has passed."))
    if not form.sound or money.offer is None:
        return quote_page(case, money, status=422, making=form)
    body = made_quote(case, money.offer, until, lang=lang, paper=paper)
    _append(case, [_draft(case, body)])
    return None


def _answer(case: Case, money: Money) -> Response | None:
    form, say, quoted = Form(case.visit), case.visit.say, case.state.quoted
    said_by = form.text("said_by", needed=say("Say who answered for the customer."))
    how = form.choice("how", [key for key, _ in WAYS], needed=say("Say how they answered."))
    remark = form.text("remark", most=1000)
    if quoted is None or case.visit.field("quote") != quoted.number:
        form.wrong("said_by", say("Another quote was made meanwhile. Look at it first."))
    if not form.sound or quoted is None:
        return quote_page(case, money, status=422, answering=form)
    agreed = _agreed(form, quoted)
    if agreed is None:
        form.wrong("agreed", say("Nothing is ticked. Tick what is agreed, or say that nothing is."))
        return quote_page(case, money, status=422, answering=form)
    bodies = answer_drafts(case, quoted, agreed, said_by=said_by, how=how, remark=remark)
    first = _draft(case, bodies[0])
    rest = [
        attrs.evolve(_draft(case, body), id=following_id(first.id, at))
        for at, body in enumerate(bodies[1:], start=1)
    ]
    _append(case, [first, *rest])
    return None


def _agreed(form: Form, quoted: QuoteMade) -> set[str] | None:
    """Parts agreed to; None where nothing is ticked and nobody said that nothing is agreed."""
    meant = form.value("all")
    if meant == "nothing":
        return set()
    agreed = set(form.values("agreed"))
    if meant:
        agreed |= set(quoted.must)
    if meant == "advised":
        agreed |= set(quoted.advised)
    return agreed or None


def _draft(case: Case, body: Any) -> Draft:
    visit = case.visit
    id_ = visit.field("id") or new_id()
    return Draft(id=id_, by=visit.person.key, seen=seen(visit), body=body)


def _append(case: Case, drafts: list[Draft]) -> None:
    """Enter a quote or its answer. No two quotes get one number, and none is answered unseen."""
    say = case.visit.say

    def made(state: JobState) -> list[Draft]:
        entered = drafts[0].id in state.entries
        if not entered and next_number(state) != next_number(case.state):
            raise Refused(409, say("Another quote was made meanwhile. Look at it first."))
        return drafts

    try:
        case.visit.bench.store.append_by(case.job, made, now=case.visit.now)
    except (ValueError, FaultsError) as error:
        raise Refused(422, say(str(error))) from None


def _start(case: Case, money: Money) -> dict[str, str]:
    booked = case.state.booked
    wanted = booked.customer.language if booked else ""
    days = money.charges.valid_days if money.charges else 30
    until = case.visit.bench.today + datetime.timedelta(days=days)
    return {
        "language": wanted or case.visit.language.code,
        "paper": "us-letter" if case.visit.units == "in" else "a4",
        "valid_until": until.isoformat(),
    }


def _line(case: Case, entry: Standing) -> QuoteLine:
    body = entry.body
    assert isinstance(body, QuoteMade)
    own = case.visit.language
    return QuoteLine(
        number=body.number,
        when=own.moment(entry.event.at),
        by=case.name(entry.event.by),
        until=own.date(body.valid_until),
        paper=bool(body.content),
        stands=body == case.state.quoted,
        entry=entry.last.id,
    )


def _answered_by(case: Case) -> str:
    """Who entered the answer, and when."""
    entry = case.state.by_topic.get((QuoteAnswered.kind,))
    if entry is None or case.state.answered is None:
        return ""
    return f"{case.name(entry.last.by)}, {case.visit.language.moment(entry.last.at)}"


def _answer_entry(case: Case) -> str:
    """Of the journal, to take the answer back by."""
    entry = case.state.by_topic.get((QuoteAnswered.kind,))
    return entry.event.id if entry and case.state.answered else ""


def show_paper(visit: Visit) -> Response:
    """A quote of this job as PDF; no other file."""
    case = case_of(visit)
    number = visit.part("number")
    bodies = [entry.body for entry in quotes_of(case.state)]
    body = next((b for b in bodies if isinstance(b, QuoteMade) and b.number == number), None)
    found = visit.bench.store.attachment(body.content) if body and body.content else None
    if body is None or found is None:
        raise Refused(404, visit.say("There is no such paper."))
    about, data = found
    return sent_file(data, f"{plain_name(body.number)}.pdf", about.media_type)


PAGES = (
    Page(name="job-quote", path="/jobs/{job}/quote", show=show, take=take, do="book in"),
    Page(name="job-quote-paper", path="/jobs/{job}/quotes/{number}", show=show_paper),
)
