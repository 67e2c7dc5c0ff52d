"""Who is due when: the list, letters to customers, a table to take along, a calendar to follow."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from urllib.parse import quote

from babel.dates import format_date
from starlette.responses import Response

from hoistwright.fleet.calendar import DayEvent, calendar_text
from hoistwright.fleet.csv_text import csv_text
from hoistwright.fleet.due import Due
from hoistwright.fleet.forecasts import RISK
from hoistwright.fleet.returns import (
    CSV_HEADS,
    Bundle,
    Returns,
    by_customer,
    by_month,
    by_urgency,
    csv_rows,
    of_customer,
    returns,
    until,
)
from hoistwright.language import LANGUAGES, Language, language, marked
from hoistwright.store.connect import reading, writing
from hoistwright.web.addresses import as_part
from hoistwright.web.due_words import (
    REASONS,
    hoist_words,
    how_late,
    reason_of,
    said_chance,
    why_due,
)
from hoistwright.web.letters import letter_subject, letter_text
from hoistwright.web.page import Page
from hoistwright.web.records.accounts import find_account
from hoistwright.web.records.calendars import (
    calendar_of,
    calendars_of,
    end_calendar,
    new_calendar,
)
from hoistwright.web.records.settings import setting
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit
from hoistwright.web.whole_fleet import whole_fleet

AHEAD = {
    "4": marked("the next 4 weeks"),
    "13": marked("the next 3 months"),
    "26": marked("the next 6 months"),
    "all": marked("all"),
}
MOST_CUSTOMER = 200
"""Characters of a name, as at booking in."""
VIEWS = {
    "day": marked("by day"),
    "customer": marked("by customer"),
    "month": marked("by month"),
}


def show(visit: Visit, *, address: str = "") -> Response:
    found = returns(whole_fleet(visit.bench))
    ahead, view = _chosen(visit)
    customer = visit.query("customer")
    due = _within(visit, found, ahead, customer)
    today = visit.bench.today
    with reading(visit.bench.engine) as conn:
        addresses = calendars_of(conn, visit.person.key)
    return visit.page(
        "returns.html",
        found=found,
        bundles=_bundles(due, view, today),
        shown=due,
        overdue=sum(item.overdue(today) for item in due),
        called=sum(item.wear_now(today) for item in due),
        ahead=ahead,
        view=view,
        customer=customer,
        ways=AHEAD,
        views=VIEWS,
        addresses=addresses,
        address=address,
        head_of=lambda bundle: _head(visit, view, bundle.head),
        why=lambda item: why_due(visit.language, item, today),
        chance=lambda item: said_chance(visit.language, item.chance_now(today)),
        late=lambda item: how_late(visit.language, item, today),
        reason=lambda item: visit.say(REASONS[reason_of(item, today)]),
        risky=lambda item: item.chance_now(today) >= RISK,
    )


def _chosen(visit: Visit) -> tuple[str, str]:
    ahead, view = visit.query("ahead"), visit.query("view")
    return (ahead if ahead in AHEAD else "4"), (view if view in VIEWS else "day")


def _within(visit: Visit, found: Returns, ahead: str, customer: str) -> tuple[Due, ...]:
    due = of_customer(found.due, customer) if customer else found.due
    if ahead == "all":
        return due
    return until(due, visit.bench.today + datetime.timedelta(weeks=int(ahead)))


def _bundles(due: Sequence[Due], view: str, today: datetime.date) -> tuple[Bundle, ...]:
    if view == "customer":
        return by_customer(due)
    if view == "month":
        return by_month(due, today)
    return by_urgency(due, today)


def _head(visit: Visit, view: str, head: str) -> str:
    """What stands over a bundle."""
    if view == "customer":
        return head or visit.say("customer not said")
    if view == "month" and head:
        day = datetime.date.fromisoformat(head)
        return format_date(day, "LLLL y", locale=visit.language.locale).capitalize()
    return visit.say(_URGENCY.get(head, "Due already"))


_URGENCY = {
    "overdue": marked("Overdue"),
    "wear": marked("Wear asks for it now"),
    "in time": marked("Still in time"),
    "": marked("Due already"),
}


def take(visit: Visit) -> Response:
    """A calendar address is made, or made void."""
    customer, person = visit.field("customer")[:MOST_CUSTOMER], visit.person.key
    if visit.field("do") == "end":
        with writing(visit.bench.engine) as conn:
            end_calendar(conn, person, customer)
        visit.tell(visit.say("The calendar address is void."))
        return visit.go("returns")
    with writing(visit.bench.engine) as conn:
        token = new_calendar(conn, person, customer, visit.language.code, visit.now)
    return show(visit, address=f"{_origin(visit)}/returns/calendar/{token}.ics")


def _origin(visit: Visit) -> str:
    url = visit.request.url
    return f"{url.scheme}://{url.netloc}"


def table(visit: Visit) -> Response:
    """The list as CSV; with a mark at its front so that spreadsheets read it as UTF-8."""
    ahead, _ = _chosen(visit)
    due = _within(visit, returns(whole_fleet(visit.bench)), ahead, visit.query("customer"))
    text = csv_text(CSV_HEADS, csv_rows(due, visit.bench.today))
    return Response(
        text.encode("utf-8-sig"),
        media_type="text/csv; charset=utf-8",
        headers={"content-disposition": 'attachment; filename="returns.csv"'},
    )


def letter(visit: Visit) -> Response:
    """The letter to one customer, in the language wanted."""
    customer = visit.query("customer")
    ahead, _ = _chosen(visit)
    due = _within(visit, returns(whole_fleet(visit.bench)), ahead, customer) if customer else ()
    if not due:
        raise Refused(
            404,
            visit.say("No hoist of this customer is due in the time chosen."),
            visit.say("Choose a longer time, or another customer, on the returns page."),
        )
    code = visit.query("language") or due[0].last.customer.language
    words = language(code) if code in LANGUAGES else visit.language
    with reading(visit.bench.engine) as conn:
        address = setting(conn, "shop address")
    text = letter_text(
        words, visit.bench.shop_name, address, due, visit.bench.today, visit.person.name
    )
    subject = letter_subject(words, visit.bench.shop_name)
    return visit.page(
        "returns_letter.html",
        customer=customer,
        ahead=ahead,
        words=words,
        text=text,
        subject=subject,
        mail=f"mailto:?subject={quote(subject)}&body={quote(text)}",
        languages=LANGUAGES,
    )


def calendar(visit: Visit) -> Response:
    """What a calendar programme fetches: nobody signs in, the address itself is the key."""
    token = visit.part("token").removesuffix(".ics")
    with reading(visit.bench.engine) as conn:
        found = calendar_of(conn, token) if token else None
        owner = find_account(conn, found.person) if found else None
    if found is None or owner is None or not owner.active:
        raise Refused(
            404,
            visit.say("There is no calendar at this address."),
            visit.say("It may have been made void: get a new one on the returns page."),
        )
    due = returns(whole_fleet(visit.bench)).due
    if found.customer:
        due = of_customer(due, found.customer)
    words = language(found.language)
    name = letter_subject(words, visit.bench.shop_name)
    text = calendar_text((_event(visit, words, item) for item in due), visit.now, name)
    return Response(text, media_type="text/calendar; charset=utf-8")


def _event(visit: Visit, words: Language, item: Due) -> DayEvent:
    last, today = item.last, visit.bench.today
    lines = [
        why_due(words, item, today),
        words.say("Take it in from %(day)s.", day=words.date(item.earliest)),
        words.say("Last job %(job)s.", job=last.job),
        f"{_origin(visit)}/hoists/{as_part(item.hoist)}",
    ]
    return DayEvent(
        key=item.hoist,
        day=_event_day(item, today),
        summary=words.say(
            "%(hoist)s due (%(customer)s)",
            hoist=hoist_words(words, item), customer=last.customer.name,
        ),
        description="\n".join(line for line in lines if line),
        location=last.customer.premises or last.customer.address,
        category=words.say(REASONS[reason_of(item, today)]),
    )  # fmt: skip


def _event_day(item: Due, today: datetime.date) -> datetime.date:
    """A day that somebody sees: what wear asks for now stands on today until it is done."""
    if item.overdue(today):
        return item.paper or item.day
    return max(item.day, today)


PAGES = (
    Page(name="returns", path="/returns", show=show, take=take, do="see"),
    Page(name="returns-table", path="/returns/table.csv", show=table),
    Page(name="returns-letter", path="/returns/letter", show=letter),
    Page(name="returns-calendar", path="/returns/calendar/{token}", show=calendar, open=True),
)
